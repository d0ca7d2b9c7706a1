"""The published slate as text: one page with its pictures, tables, manners and figures inside."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from pathlib import Path

from bokeh.resources import Resources
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import style
from dashboard.charts.listed import LISTED_CSS
from dashboard.charts.small import DRAWN_CSS
from dashboard.charts.strip import SCRIPT, STRIP_CSS
from dashboard.handout.tables import meanings
from dashboard.places import PACKAGE
from dashboard.ripening import date_label
from dashboard.slate import rows
from dashboard.slate.pictures import pictures
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.figures import basis_told, market_told, qualify_told
from dashboard.wording.legend import STRIP, TO_CHOOSE, legend
from dashboard.wording.order import order_told

_HERE = Path(__file__).parent
ABOUT = "{date}, data version {version}. All figures are estimates: {basis}, with their likely range (90 %)."
TOLD_FOR = "Scores, order and pictures are for {buyer}."
# Each after those it imports from.
SCRIPTS = (
    SCRIPT,
    *(PACKAGE / "page" / "parts" / f"{name}.js" for name in ("rows", "typing")),
    *(
        _HERE / f"{name}.js"
        for name in ("coming", "filling", "proposing", "planning", "listed", "passing", "slate")
    ),
)


def published(asked: Question, title: str, on: date | None = None) -> str:
    """The page of ``asked`` (a market or two, a site, units; no filters), dated ``on`` (today); ``title`` says whose records they are."""
    filters, table = rows.groups(asked), rows.table(asked)
    script, places = pictures(asked, rows.known(asked))
    flesh = set(asked.catalogue.cultivars["flesh_colour"])
    return _environment().get_template("page.html").render(
        title=title,
        about=asked.catalogue,
        asked=asked,
        buyers=[{"name": one.name, "told": (one.summary, *market_told(one, asked.units))} for one in asked.buyers if one],
        counted=qualify_told(asked),
        about_figures=ABOUT.format(date=date_label(on or date.today()), version=asked.catalogue.version, basis=basis_told(asked)),
        strip_told=STRIP,
        told_for=TOLD_FOR.format(buyer=asked.buyers[0].name) if len(asked.buyers) > 1 and asked.buyers[0] else "",
        cautions=CAUTIONS,
        sure=order_told(asked),
        legend=legend(flesh, sure=False),
        to_choose=TO_CHOOSE,
        places=places,
        groups=filters,
        table=table,
        figures=rows.figures(asked),
        meanings=meanings(asked),
        style=Markup(style.COLOURS_CSS + (_HERE / "slate.css").read_text(encoding="utf-8") + style.MARK_CSS + DRAWN_CSS + LISTED_CSS),
        library=_library(),
        script=script,
        manners=_manners(),
        dress=Markup(STRIP_CSS),
        data=_inside_a_script(rows.data(asked, filters) | {"drawn": rows.drawn(table)}),
        ink=style,
    )  # fmt: skip


@cache
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(_HERE),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


@cache
def _library() -> Markup:
    """Bokeh's script, without the parts no picture here needs."""
    return Markup("\n").join(Markup(text) for text in Resources(mode="inline", components=["bokeh"]).js_raw)


@cache
def _manners() -> Markup:
    """The slate's scripts as one, of the page's own what stands before their element: a file that is mailed has nothing beside it to
    import from."""
    whole = [place.read_text(encoding="utf-8").partition("export function render(")[0] for place in SCRIPTS]
    return Markup(
        "\n".join(line for text in whole for line in text.splitlines() if not line.startswith("import "))
    )


def _inside_a_script(known: dict) -> Markup:
    """As JSON that no name can break out of."""
    text = json.dumps(known, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(text)
