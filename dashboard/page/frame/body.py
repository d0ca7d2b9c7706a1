"""The page under the strip: the choices at the left, the tabs beside them. In a narrow window, told by its width alone, the choices lie
away and come over the page when they are asked for."""

from __future__ import annotations

from pathlib import Path

from panel.viewable import Viewable

from dashboard.charts import style
from dashboard.page.parts.boxes import Column, Row
from dashboard.page.patches.named import Named
from dashboard.page.patches.scripted import Element

BODY_CSS = f"""
:host {{ display: grid !important; grid-template-columns: 272px minmax(0, 1fr); align-items: start; background: {style.WASH}; min-height: calc(100vh - 210px); }}
.choices {{ position: sticky; top: 0; max-height: calc(100vh - 44px); overflow-y: auto; overflow-x: hidden; background: {style.PAPER}; border-right: 1px solid {style.RULE};
  box-sizing: border-box; padding: 8px 0; width: 100% !important; }}
.answers {{ min-width: 0; padding: 0 12px 24px; box-sizing: border-box; width: 100% !important; }}
@media (max-width: {style.NARROW}px) {{
  :host {{ grid-template-columns: minmax(0, 1fr); }} .answers {{ padding: 0 4px 72px; }}
  .choices {{ position: fixed; inset: 44px auto 0 0; width: min(340px, 100vw - 32px) !important; display: block; height: auto; max-height: none; align-self: stretch; z-index: 1150; border-right: 1px solid {style.LEAF};
    transform: translateX(-102%); visibility: hidden; overscroll-behavior: contain; padding: 8px 0 0; scroll-padding-bottom: 64px; }}
  :host(.choosing) .choices {{ transform: none; visibility: visible; }}
  :host(.choosing)::before {{ content: ""; cursor: pointer; position: fixed; inset: 44px 0 0 0; z-index: 1149; background: rgba(0, 0, 0, .45); }} }}
@media (max-width: {style.NARROW}px) and (prefers-reduced-motion: no-preference) {{ .choices {{ transition: transform .18s, visibility .18s; }}
  :host(.choosing) .choices {{ transition: transform .18s; }} }}
"""
SHUT_CSS = (
    style.BUTTON_CSS
    + f"""
:host {{ display: none; }} button {{ width: 100%; min-height: 44px; }}
@media (max-width: {style.NARROW}px) {{ :host {{ display: block; position: sticky; bottom: 0; z-index: 1; padding: 8px 10px; background: {style.PAPER}; border-top: 1px solid {style.RULE}; }} }}
"""
)


class Shut(Element):
    """The button that shows the page again; it also hears who asks for the choices. All in the browser; the server hears nothing of it."""

    script = Path(__file__).with_name("body.js")
    parts = (script.with_name("focus.js"),)
    dress = (SHUT_CSS,)


class Choices(Named, Column):
    """Everything that can be chosen beside the tabs."""


def body(choices: list[Viewable], *answers: Viewable) -> Row:
    return Row(
        Choices(
            *choices,
            Shut(margin=0, sizing_mode="stretch_width"),
            role="region",
            told="Market and filters",
            css_classes=["choices"],
            stylesheets=[
                ":host > * { max-height: none; }"
            ],  # or what stays at the foot would not reach its end
        ),
        Column(*answers, css_classes=["answers"], sizing_mode="stretch_width"),
        stylesheets=[BODY_CSS],
        sizing_mode="stretch_width",
    )
