"""The published slate as text: one page with its pictures, tables, manners and figures inside."""

from __future__ import annotations

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
from dashboard.handout.one_file import POLICY, as_one, inside_a_script
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
        manners=as_one(SCRIPTS),
        dress=Markup(STRIP_CSS),
        data=inside_a_script(rows.data(asked, filters) | {"drawn": rows.drawn(table)}),
        ink=style,
        policy=POLICY,
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
