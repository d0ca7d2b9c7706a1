"""The list of cultivars dressed, on the page and in a published slate alike: rows with small drawings, on a phone cards."""

from __future__ import annotations

from dashboard.charts import style

# Wider than a phone, rows of a table; below, each row a card: who it is, five figures, and the picking bar with its dates.
LISTED_CSS = f"""
.listed {{ background: {style.PAPER}; }}
.listed .c-name > .mark {{ position: absolute; left: 8px; top: 11px; }}
.listed .c-name .open {{ color: {style.INK}; font-size: 14px; text-decoration: none; text-align: left; }}
@media (hover: hover) {{ .listed .c-name .open:hover {{ text-decoration: underline; }} }}
.about {{ display: block; font-size: 12px; line-height: 16px; color: {style.QUIET}; font-weight: 400; }}
.about > :not(.unseen) {{ display: block; white-space: normal; }} .about > :empty {{ display: none; }}
.listed .shown {{ font-size: 14px; }} .d-score .shown {{ font-weight: 600; }}
.d-verdict .pair {{ justify-content: center; }}
@media (min-width: {style.PHONE + 1}px) {{
  .listed caption {{ caption-side: bottom; padding-top: 8px; font-size: 12px; }}
  .listed thead th {{ font-size: 12px; border-bottom: 1px solid {style.EDGE}; padding: 8px 6px; text-align: left; min-width: 0; }}
  .listed thead .c-keep {{ font-size: 0; }}
  .listed thead th[class*="d-"] button {{ text-align: left; }} .listed thead .d-verdict {{ text-align: center; }}
  .listed tbody :is(td, th) {{ vertical-align: middle; padding: 4px 6px; }} .listed [class*="d-"].c-number {{ text-align: left; }}
  .listed tbody .c-name[class*="d-"] {{ min-width: 140px; max-width: 200px; padding-left: 28px; }} .listed thead .c-name {{ padding-left: 28px; }}
  .listed .c-keep {{ padding: 0 0 0 4px; width: 30px; }} .listed .c-name .open {{ padding: 0; min-height: 24px; }}
  .d-dot .shown, .d-score .shown {{ min-width: 2.3em; text-align: right; }} .d-dot .drawn, .d-score .drawn {{ min-width: 48px; width: 62px; flex: 1 1 62px; }}
  .d-picking .pair {{ flex-direction: column-reverse; align-items: stretch; gap: 2px; min-width: 130px; }} .listed .d-picking .shown {{ font-size: 12px; color: {style.QUIET}; }}
  .listed tbody tr:has(.keep[aria-pressed="true"]):not(.chosen) > * {{ background: {style.WASH}; }} }}
@media (min-width: {style.PHONE + 1}px) and (max-width: {style.NARROW}px) {{
  .listed :is(thead th, tbody td, tbody th) {{ padding-left: 4px !important; padding-right: 2px !important; }} .listed tbody .c-name[class*="d-"], .listed thead .c-name {{ padding-left: 26px !important; }}
  .listed tbody .c-name[class*="d-"] {{ min-width: 116px; max-width: 140px; }} .d-score .drawn {{ display: none; }} .d-dot .drawn {{ min-width: 34px; width: 34px; flex: 1 1 34px; }} .d-dot .pair {{ gap: 4px; }} .d-picking .pair {{ min-width: 104px; }} }}
@media (max-width: {style.PHONE}px) {{
  .listed {{ display: flex; flex-direction: column; background: none; }} .listed :is(caption, thead, tbody, td, th) {{ display: block; }}
  .listed caption {{ order: 3; padding: 8px 0 0; font-size: 12px; }}
  .listed thead tr {{ display: flex; gap: 8px; align-items: center; overflow-x: auto; }}
  .listed thead tr::before {{ content: "Sort by"; color: {style.QUIET}; white-space: nowrap; }}
  .listed thead th {{ border: 0; padding: 0; flex: none; min-width: 0; }} .listed thead th:not(:has(button)), .listed thead:not(:has(button)) {{ display: none; }}
  .listed thead th button {{ border: 1px solid {style.PRESSED}; border-radius: 8px; padding: 2px 10px; min-height: 44px; white-space: nowrap; background: {style.PAPER}; }}
  .listed tbody {{ display: grid; gap: 8px; margin-top: 8px; }}
  .listed tbody tr:not([hidden]) {{ display: grid; grid-template-columns: minmax(0, 1fr) repeat(2, minmax(0, 1.3fr)) minmax(0, 1.4fr) minmax(0, 1fr); gap: 4px; padding: 0 12px 8px; background: {style.PAPER};
    border: 1px solid {style.EDGE}; border-radius: 8px; }}
  .listed tbody :is(td, th) {{ border: 0; padding: 0; min-width: 0; max-width: none; text-align: left; white-space: normal; background: none; position: relative; }}
  .listed tbody td {{ order: 3; grid-column: 1 / -1; font-size: 12px; }}
  .listed tbody td:not([class*="d-"])::before {{ content: attr(data-label) ": "; color: {style.QUIET}; }} .listed td:empty {{ display: none; }}
  .listed :is(.c-keep, .c-mark, .c-over, .c-bar, .nothing)::before {{ display: none; }}
  .listed tbody .c-name {{ order: -5; grid-column: 1 / 5; min-height: 44px; }} .listed tbody .c-name:has(.mark) {{ padding-left: 20px; }} .listed .c-name > .mark {{ left: 0; top: 10px; }}
  .listed .c-name .open {{ font-size: 16px; min-height: 28px; padding: 4px 0 0; line-height: 20px; }} .listed .c-name:not(:has(.about)) .open {{ min-height: 44px; }}
  .listed .c-name .open::after {{ content: ""; position: absolute; inset: 0; }}
  .about {{ display: flex; gap: 4px; white-space: nowrap; overflow: hidden; }} .about > :not(.unseen) {{ overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }} .about .class {{ flex: none; max-width: 100%; }} .about .why:not(:empty)::before {{ content: "· "; }}
  .listed tbody .c-keep {{ order: -3; grid-column: 5; justify-self: end; margin-right: -8px; }}
  .listed tbody :is(.d-score, .d-dot, .d-seasons) {{ order: -2; grid-column: span 1; line-height: 16px; }} .listed tbody .d-seasons {{ order: -1; }}
  .listed :is(.d-score, .d-dot, .d-seasons) .drawn {{ display: none; }} .listed [class*="d-"] .shown {{ font-weight: 600; white-space: nowrap; }}
  .listed .shown[data-unit]::after {{ content: " " attr(data-unit); font-size: 12px; font-weight: 400; }}
  .listed tbody td:is(.d-score, .d-dot, .d-seasons)::after {{ content: attr(data-label); display: block; color: {style.QUIET}; overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }}
  .listed tr:has(.k-stands) .c-name {{ grid-column: 1 / 4; }} .listed tbody .k-stands {{ order: -4; grid-column: 4; align-self: center; }} .listed .k-second .pair {{ display: inline; }}
  .listed tbody .k-second::before {{ content: attr(data-label) ": "; color: {style.QUIET}; }} .listed tbody .d-picking {{ order: 0; }}
  .d-picking .pair {{ flex-direction: row-reverse; }} .listed .d-picking .shown {{ font-size: 12px; font-weight: 400; color: {style.QUIET}; }}
  .listed tbody .c-over {{ order: -6; font-size: 14px; font-weight: 600; }} .listed tr.chosen {{ background: {style.PICKED}; }} }}
"""
