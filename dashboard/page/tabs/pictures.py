"""The pictures of a tab to take away: which there are now, what each shows, and how it is read."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from functools import partial
from typing import Any

from markupsafe import Markup

from dashboard.answers.among import among
from dashboard.answers.question import Question
from dashboard.answers.season_classes import slate_windows
from dashboard.charts import among as among_all
from dashboard.charts import fruit_row, picking, slate_strip, springs, symbols, tradeoff, variation, winters
from dashboard.estimates.variation import WORDS
from dashboard.page.parts.picture_saver import Picture, PictureSaver
from dashboard.page.tabs.by_class import BOXES_READ, WHOSE
from dashboard.page.tabs.closers import passing
from dashboard.page.tabs.my_site_pictures import (
    SPRINGS_READ,
    pictured,
    springs_drawn,
    winters_drawn,
    winters_read,
)
from dashboard.page.tabs.records import variation_rows
from dashboard.page.tabs.season import picked_told
from dashboard.page.tabs.side_by_side import HOW_DRAWN
from dashboard.terms.traits import TRAITS
from dashboard.visit.state import State
from dashboard.wording import pictures as words
from dashboard.wording import strip as strip_words
from dashboard.wording.figures import DATED, called, counted, listed, years_in_ten
from dashboard.wording.gaps import cover_told
from dashboard.wording.legend import AROUND, BAR, legend
from dashboard.wording.my_site import CAUTIONS as CHILL_CAUTIONS

PICKING_WIDTH = 820  # pixels: of the lines of a few cultivars, which take any


def picture_saver(state: State) -> PictureSaver:
    """The button of one visitor, for whichever tab is open."""

    def round_it(picture: Picture, kind: str) -> dict[str, Any]:
        asked, today = state.question, dt.date.today()
        return {
            "file": words.file_name(picture.key, today, kind),
            "over": words.over(asked),
            "under": words.under(asked, today),
        }

    return PictureSaver(lambda: offered(state.question, state.tab, state.shown), round_it)


def offered(asked: Question, tab: str, shown: str = "pictures") -> list[Picture]:
    """Those of a tab that have something in them, the slate's strip over every tab first; of the candidates only while they are ``shown``."""
    away = tab == "fruit" and shown != "pictures"
    return [*_strip(asked), *([] if away else TABS.get(tab, lambda _asked: [])(asked))]


def _strip(asked: Question) -> list[Picture]:
    slate = asked.strip
    if slate is None or not slate.bars:
        return []
    told = strip_words.drawn(asked, slate)
    first, last = told["ends"]
    title = f"My slate: {counted(len(asked.shortlist), 'cultivar')}, selling {first} to {last}"
    covered = (
        "; gaps: ".join([row["told"], *filter(None, ["; ".join(label for *_, label in row["gaps"])])]) + "."
        for row in told["rows"]
    )
    also = (words.market_line(asked, buyer) for buyer in asked.buyers[1:] if buyer)
    reads = (*covered, *also, STRIP_READ.format(years_in_ten(asked)), *told["said"])
    return [Picture("slate", title, drawn=partial(slate_strip.drawing, told), reads=reads)]


STRIP_READ = (
    "A bar is the usual time of picking: full, it qualifies; hatched, it may; hollow, it covers no day. A cell is a day. Green has fruit in at "
    "least {}, dark green almost always; hatched rests on what may qualify. A gap is red and underlined."
)


def _fruit(asked: Question) -> list[Picture]:
    if not asked.passes.any():
        return []
    shown = legend(set(asked.catalogue.cultivars["flesh_colour"]), asked.sure_not_beaten is not None)
    marks = tuple(
        (symbols.symbol(look), meaning) for look, meaning in shown if asked.profile or look != "bar"
    )
    pairs = {
        tradeoff.named(x, y): f"{TRAITS[y].label} against {TRAITS[x].label.lower()}"
        for x, y in tradeoff.PAIRS
    }
    whole = Picture("tradeoffs", "Size, firmness and sugar against each other", tuple(pairs), marks=marks)
    each = [Picture(name.replace("_", "-"), title, (name,), marks=marks) for name, title in pairs.items()]
    return [whole, *each]


def _season(asked: Question) -> list[Picture]:
    found = []
    if len(asked.windows):
        found.append(Picture("season", "The season, day by day", ("season",), reads=(picked_told(asked),)))
    if asked.cover is not None and asked.cover.names:
        whose = "my slate" if asked.shortlist else passing(asked)
        reads = tuple(cover_told(asked, whose, "red")[:2])
        found.append(Picture("cover", f"Cover of {whose}", ("cover",), reads=reads))
    if len(slate := slate_windows(asked)):

        def lines() -> tuple[Markup, int, int]:
            return picking.drawing(slate, asked.catalogue.south), PICKING_WIDTH, picking.height(len(slate))

        title = f"When each of my slate is picked in {DATED[asked.season_kind]}"
        found.append(Picture("calendar", title, drawn=lines, reads=(f"{BAR}; {AROUND}",)))
    return found


def _classes(asked: Question) -> list[Picture]:
    if asked.class_weeks is None or not asked.class_weeks.classes:
        return []
    reads = (BOXES_READ.format(WHOSE[asked.weeks_of], years_in_ten(asked)),)
    return [Picture("weeks", "Each class of fruit, week by week", ("weeks",), reads=reads)]


def _cultivar(asked: Question) -> list[Picture]:
    if asked.dossier is None:
        return []
    name, rows = called(asked.cultivar), among(asked.values, asked.cultivar, asked.profile)
    picked = (asked.catalogue.picks["cultivar"] == asked.cultivar).any()
    found = []
    if rows:
        whole = partial(among_all.drawing, rows, asked.units)
        found.append(Picture("standing", f"{name} among all cultivars", drawn=whole, reads=(STANDING_READ,)))
    if picked:
        reads = ("A bar is a season at one site.",)
        found.append(Picture("picked", f"When {name} was picked", ("seasons",), reads=reads))
    return found


STANDING_READ = "Gray: how many cultivars have how much of it, the least on the left. Dot: this one’s average; line: its likely range (90 %). Ties count against it."


def _beside(asked: Question) -> list[Picture]:
    found = asked.side_by_side
    if found is None:
        return []
    names, south = listed([called(name) for name in found.names]), asked.catalogue.south
    fruit = tuple(found.fruit[name] for name in found.names)
    shown = [
        Picture(
            "fruit",
            f"Usual fruit of {names}",
            drawn=partial(fruit_row.drawing, fruit, asked.units),
            reads=(HOW_DRAWN,),
        )
    ]
    if found.windows[["first", "last"]].notna().all(axis=1).any():

        def lines() -> tuple[Markup, int, int]:
            return (
                picking.drawing(found.windows, south),
                PICKING_WIDTH,
                picking.height(len(found.windows)),
            )

        title = f"When {names} are picked in {DATED[asked.season_kind]}"
        shown.append(Picture("picking", title, drawn=lines, reads=(f"{BAR}; {AROUND}",)))
    return shown


def _records(asked: Question) -> list[Picture]:
    rows = variation_rows(asked.catalogue)
    if not len(rows):
        return []
    places = set(rows["place"])
    marks = tuple(
        (symbols.swatch(variation.SHADES[place]), meaning)
        for place, meaning in enumerate(WORDS.values())
        if place in places
    )
    return [Picture("variation", "Where the variation comes from", ("variation",), marks=marks)]


def _site(asked: Question) -> list[Picture]:
    found = asked.my_site
    if found is None or found.refused:
        return []

    def of_winters() -> tuple[Markup, int, int]:
        return winters_drawn(asked), PICKING_WIDTH, winters.HEIGHT

    shown = [
        Picture(
            "winters",
            f"Winter chill at {found.name}",
            drawn=of_winters,
            reads=(winters_read(asked), CHILL_CAUTIONS[0]),
        )
    ]
    if found.bloomed is not None and (names := pictured(asked)):

        def of_springs() -> tuple[Markup, int, int]:
            return springs_drawn(asked), PICKING_WIDTH, springs.height(len(names))

        shown.append(
            Picture(
                "springs",
                f"Bloom lost to frost at {found.name}",
                drawn=of_springs,
                reads=(SPRINGS_READ, CHILL_CAUTIONS[0]),
            )
        )
    return shown


TABS: dict[str, Callable[[Question], list[Picture]]] = {
    "fruit": _fruit,
    "season": _season,
    "classes": _classes,
    "cultivar": _cultivar,
    "beside": _beside,
    "site": _site,
    "records": _records,
}
