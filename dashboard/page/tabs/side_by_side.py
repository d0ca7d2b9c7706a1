"""Two to six cultivars side by side: a grid of their traits; in words what really differs, their records, and photographs."""

from __future__ import annotations

from functools import partial

from markupsafe import Markup

from dashboard.answers import side_by_side as sides
from dashboard.answers.question import Question
from dashboard.answers.side_by_side import SideBySide
from dashboard.charts import picking
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.finding import Finder
from dashboard.page.parts.pressable import Fold, Pressable
from dashboard.page.parts.ticking import press
from dashboard.page.tabs.differing import differing
from dashboard.page.tabs.my_slate import CAUTION
from dashboard.page.tabs.photographs import Shown, photographs, shown
from dashboard.page.tabs.side_by_side_grid import grid
from dashboard.page.tabs.side_by_side_table import table_view
from dashboard.visit.state import State
from dashboard.wording.figures import DATED, listed

FIELD = "beside"
BEST = 4  # how many of the best are offered while nothing stands here


def beside(state: State) -> Column:
    catalogue = state.question.catalogue
    chooser = Finder(catalogue, lambda name: add(name), label="Set beside (type part of its name)", width=340)
    names = ChoiceBoxes(lambda _field, kept: keep(kept), margin=(5, 10))
    offer = live.button(
        "Set these side by side", lambda: state.choose(beside=state.question.offered), variant="contained"
    )
    best = live.button(
        "Set the best four side by side",
        lambda: state.choose(beside=best_of(state.question)),
        variant="outlined",
    )
    heading, caution = Prose(), Prose(visible=False)
    whole = Pressable(partial(press, state), visible=False)
    differs, fruit = Prose(), Pressable(lambda *_: None)
    pictures: Shown = {}  # of those that stand there
    table = RowTable(lambda *_: None)
    folds = (
        Fold("Every difference in words", differs, visible=False),
        Fold("Everything as a table", table, visible=False),
        Fold("Photographs, picking times and how the fruit is drawn", fruit, visible=False),
    )

    def keep(ticked: list[str]) -> None:
        found = state.question.side_by_side
        state.choose(beside=(*ticked, *(found.left_out if found else ())))  # the next one moves up

    def add(name: str) -> None:
        if len(state.beside) < sides.MOST:
            state.choose(beside=(*state.beside, name))

    def chosen(asked: tuple[str, ...]) -> None:
        shown = asked[: sides.MOST]
        options = [{"value": name, "label": name} for name in shown]
        names.groups = [{"field": FIELD, "label": "Side by side (untick one to take it out)", "single": False, "look": "", "options": options}]  # fmt: skip
        names.tell([{"left": [], "chosen": list(range(len(shown)))}])
        names.visible = bool(shown)
        chooser.disabled = len(shown) >= sides.MOST

    def offering(offered: tuple, found: SideBySide | None, *_parts) -> None:
        offer.visible = found is None and bool(offered)
        best.visible = found is None and len(best_of(state.question)) >= sides.FEWEST
        heading.say(told(state.question))

    def show(found: SideBySide | None, *_parts) -> None:
        for part in (whole, caution, *folds):
            part.visible = found is not None
        if found is None:
            return
        draw_fruit(found)
        caution.say(Markup('<p class="quiet small">{}</p>').format(CAUTION))
        table.tell(table_view(state.question))
        differs.say(differing(state.question))

    def draw_grid(found: SideBySide | None, *_parts) -> None:
        if found is not None:
            whole.say(grid(state.question))

    def draw_fruit(found: SideBySide) -> None:
        """At once without the photographs that are still to be cleaned, and once more with them."""
        missing = {name: taken for name, taken in found.photographs.items() if name not in pictures}

        def arrived(cleaned: Shown) -> None:
            if state.question.side_by_side is found:  # still asked for
                kept = {**pictures, **cleaned}
                pictures.clear()
                pictures.update({name: kept[name] for name in found.photographs if name in kept})
                fruit.say(fruit_told(state.question, pictures))

        if missing:
            fruit.say(fruit_told(state.question))
            live.aside(lambda: shown(catalogue.source, missing), arrived)
        else:
            fruit.say(fruit_told(state.question, pictures))

    live.follow(state, chosen, "beside", tab="beside")
    live.follow(state, offering, "offered", "side_by_side", "ranking", tab="beside")
    live.follow(state, show, "side_by_side", "fit", "units", "columns", tab="beside")
    live.follow(state, draw_grid, "side_by_side", "fit", "second_buyer", "strip", "units", tab="beside")
    return Column(
        Wrapped(chooser, names),
        heading,
        Wrapped(offer, best),
        whole,
        *folds,
        caution,
        sizing_mode="stretch_width",
    )


def best_of(asked: Question) -> tuple[str, ...]:
    """The first of the ranking; () without a market, which ranks nothing."""
    return tuple(str(name) for name in asked.ranking.index[:BEST]) if asked.profile else ()


def told(asked: Question) -> Markup:
    """What stands here, or how to begin; how many there may be."""
    found = asked.side_by_side
    if found is None:
        said = Markup("<h2>Which one is better, and is that sure?</h2>")
        begin = "Type a name above, two to six of them, and see each trait on one axis."
        if asked.offered:
            begin += f" Picked out, or on my slate: {listed([str(name) for name in asked.offered])}."
        else:
            begin += " Marks you choose in the first tab and your slate are offered here, too."
        return said + Markup("<p>{}</p>").format(begin)
    if found.left_out:
        return Markup("<p>{}</p>").format(
            f"No more than six fit side by side; left out: {listed(list(found.left_out))}."
        )
    if len(found.names) == sides.MOST:
        return Markup('<p class="quiet small">{}</p>').format(
            "Six is the most: untick one to make room for another."
        )
    if len(found.names) < sides.FEWEST:
        return Markup("<p>{}</p>").format("Set a second cultivar beside it.")
    return Markup("")


def fruit_told(asked: Question, pictures: Shown | None = None) -> Markup:
    """Their photographs, when each is picked, and how the fruit of the grid is drawn."""
    found = asked.side_by_side
    assert found is not None
    figures = [
        Markup("<figure><figcaption><b>{}</b></figcaption>{}</figure>").format(name, photographs(asked, name, pictures))
        for name in (found.names if found.photographs else ())
    ]  # fmt: skip
    return (
        Markup('<div class="shots">{}</div>').format(Markup("").join(figures))
        + Markup('<p class="quiet small">{}</p>').format(
            HOW_DRAWN + ("" if found.photographs else " No photo of them is on record.")
        )
        + Markup("<h3>When they are picked in {}</h3>").format(DATED[asked.season_kind])
        + picking.drawing(found.windows, asked.catalogue.south)
    )


HOW_DRAWN = (
    "To scale: both diameters, the suture at the top. The dotted lines hold the likely range (90 %) of its average size. Skin is rated "
    "0 to 10 for red, and as many tenths of the ring are red. A white gap round the pit means free, on one side semi-free, none "
    "cling. Not measured: the pit and how thick the skin is, drawn in proportion, and the height, not drawn. The small sign "
    "marks a flat fruit."
)
