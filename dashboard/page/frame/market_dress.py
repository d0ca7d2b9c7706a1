"""The dress of the market editor."""

from __future__ import annotations

from dashboard.charts import style

EDITOR_CSS = (
    style.BASE_CSS
    + f"""
details {{ border: 1px solid {style.EDGE}; border-radius: 6px; background: {style.PAPER}; margin: 0 0 6px; }}
summary {{ padding: 6px 2px 6px 8px; cursor: pointer; font-weight: 600; color: {style.LEAF}; }}
summary:focus-visible, select:focus-visible {{ outline: 3px solid {style.CHOSEN}; outline-offset: 1px; }}
.body {{ display: grid; gap: 10px; padding: 2px 8px 10px; }}
p, h2 {{ margin: 0; }} h2 {{ font-size: 14px; padding: 0 0 4px; }}
[hidden] {{ display: none !important; }}
.standing, .hint, .unit {{ color: {style.QUIET}; font-size: 12.5px; }}
.fault:empty {{ display: none; }}
.fault {{ border-left: 4px solid {style.LIMIT}; background: {style.FAULTY}; padding: 4px 8px; font-size: 13px; overflow-wrap: anywhere; }}
.list {{ display: grid; gap: 8px; }} .list:not(:empty) {{ margin: 0 0 6px; }}
.part {{ display: grid; gap: 4px; border: 1px solid {style.RULE}; border-radius: 6px; padding: 2px 8px 8px; min-width: 0; }}
.head {{ display: flex; justify-content: space-between; align-items: center; font-weight: 600; font-size: 13px; margin-right: -6px; }}
button.away {{ border: 0; background: none; font-size: 18px; line-height: 1; min-width: 28px; min-height: 28px; color: {style.QUIET}; }}
.rows {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(72px, 1fr)); gap: 4px 8px; align-items: end; }}
.rows.words {{ display: flex; flex-wrap: wrap; gap: 4px 6px; }}
label.option {{ display: inline-flex; align-items: center; gap: 5px; border: 1px solid {style.EDGE}; border-radius: 6px; padding: 3px 8px 3px 5px;
  min-height: 24px; box-sizing: border-box; }}
label.option:has(input:checked) {{ border-color: {style.LEAF}; background: {style.TICKED}; font-weight: 600; }}
label.option input {{ margin: 0; accent-color: {style.LEAF}; }}
label.figure {{ display: grid; grid-template-columns: 1fr auto; gap: 2px 3px; align-items: center; font-size: 12.5px; min-width: 0; }}
label.figure > span:first-child {{ grid-column: 1 / -1; color: {style.QUIET}; }}
label.weight {{ grid-column: 1 / -1; grid-template-columns: 3.6em 1fr; }} label.weight .unit {{ display: none; }}
input[type=text], select {{ font: inherit; color: {style.INK}; background: {style.PAPER}; border: 1px solid {style.OUT}; border-radius: 4px; padding: 3px 5px;
  width: 100%; min-width: 0; min-height: 28px; box-sizing: border-box; }}
input[type=text]:focus-visible {{ outline-offset: 0; }}
input[aria-invalid=true] {{ border: 2px solid {style.LIMIT}; }}
input[type=range] {{ width: 100%; min-width: 0; margin: 0; accent-color: {style.LEAF}; }}
.add {{ display: grid; grid-template-columns: 1fr auto; gap: 6px; }}
.body button:not(.away) {{ border: 1px solid {style.OUT}; background: {style.PAPER}; border-radius: 6px; padding: 3px 10px; min-height: 28px; }}
.body button:disabled {{ opacity: .55; cursor: default; }}
.called, .opening {{ display: grid; gap: 2px; font-size: 12.5px; margin: 0 0 6px; }}
input[type=file] {{ font: inherit; font-size: 12.5px; width: 100%; min-width: 0; }}
@media (pointer: coarse), (max-width: 600px) {{
  summary, .body button, input[type=text], select, input[type=range], input[type=file], label.option {{ min-height: 44px; }}
  .body button:not(.away) {{ min-height: 44px; }} summary {{ box-sizing: border-box; padding: 12px 8px; }}
  input[type=text], select {{ font-size: 16px; }} button.away {{ min-width: 44px; min-height: 44px; }}
  label.option {{ padding: 3px 12px 3px 8px; }} input[type=file]::file-selector-button {{ min-height: 44px; }} }}
"""
)
