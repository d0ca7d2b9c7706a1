"""Two to six cultivars side by side: their fruit to scale, when they are picked, every trait, and what really differs."""

from __future__ import annotations

from markupsafe import Markup

from dashboard.answers import side_by_side as sides
from dashboard.answers.question import Question
from dashboard.answers.side_by_side import SideBySide
from dashboard.charts import fruit as drawn
from dashboard.charts import picking
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.finding import Finder
from dashboard.page.tabs.differing import differing
from dashboard.page.tabs.photographs import Shown, photographs, shown
from dashboard.page.tabs.shortlist import CAUTION
from dashboard.page.tabs.side_by_side_table import table_view
from dashboard.visit.state import State
from dashboard.wording.figures import DATED, listed

FIELD = "beside"


def beside(state: State) -> Column:
    catalogue = state.question.catalogue
    chooser = Finder(catalogue, lambda name: add(name), label="Set beside (type part of its name)", width=340)
    names = ChoiceBoxes(lambda _field, kept: keep(kept), margin=(5, 10))
    offer = live.button(
        "Set these side by side", lambda: state.choose(beside=state.question.offered), variant="contained"
    )
    heading, fruit, differs = Prose(), Prose(), Prose()
    pictures: Shown = {}  # of those that stand there
    table = RowTable(lambda *_: None)

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

    def offering(offered: tuple, found: SideBySide | None) -> None:
        offer.visible = found is None and bool(offered)
        heading.say(told(state.question))

    def show(found: SideBySide | None, *_parts) -> None:
        for part in (fruit, table, differs):
            part.visible = found is not None
        if found is None:
            return
        draw_fruit(found)
        table.tell(table_view(state.question))
        differs.say(differing(state.question) + Markup('<p class="quiet small">{}</p>').format(CAUTION))

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
    live.follow(state, offering, "offered", "side_by_side", tab="beside")
    live.follow(state, show, "side_by_side", "fit", "units", "columns", tab="beside")
    return Column(
        Wrapped(chooser, names),
        heading,
        offer,
        fruit,
        differs,
        table,
        sizing_mode="stretch_width",
    )


def told(asked: Question) -> Markup:
    """What stands here, or how to begin; how many there may be."""
    said = Markup("<h2>Side by side</h2>")
    found = asked.side_by_side
    if found is None:
        if not asked.offered:
            return said + Markup("<p>{}</p>").format(
                "Type a name above, two to six of them. Marks you choose in the first tab and your shortlist are offered here, too."
            )
        return said + Markup("<p>{}</p>").format(
            f"Nothing is set side by side yet. You have picked out: {listed([str(name) for name in asked.offered])}."
        )
    if found.left_out:
        return said + Markup("<p>{}</p>").format(
            f"No more than six fit side by side; left out: {listed(list(found.left_out))}."
        )
    if len(found.names) == sides.MOST:
        return said + Markup('<p class="quiet small">{}</p>').format(
            "Six is the most: untick one to make room for another."
        )
    return said


def fruit_told(asked: Question, pictures: Shown | None = None) -> Markup:
    """The drawings in one row and to one scale, with their words, and when each is picked."""
    found = asked.side_by_side
    assert found is not None
    side = drawn.span(found.fruit.values(), asked.units)
    figures = [_figure(asked, found, name, side, pictures) for name in found.names]
    square = "one inch" if asked.units == "us" else "10 mm"
    figures.append(
        Markup("<figure>{}<figcaption>{}</figcaption></figure>").format(
            drawn.reference(asked.units, side),
            f"For comparison: the dashed circle is 2½ in in every drawing, a square {square}.",
        )
    )
    return (
        Markup("<h3>Their usual fruit, cut across, all to one scale</h3>")
        + Markup('<div class="row">{}</div>').format(Markup("").join(figures))
        + Markup('<p class="quiet small">{}</p>').format(
            HOW_DRAWN + ("" if found.photographs else " No photo of them is on record.")
        )
        + Markup("<h3>When they are picked in {}</h3>").format(DATED[asked.season_kind])
        + picking.drawing(found.windows, asked.catalogue.south)
    )


HOW_DRAWN = (
    "To scale: both diameters, the suture at the top; between the dotted lines the usual size lies with 90 % certainty. Skin is rated "
    "0 to 10 for red, and as many tenths of the ring are red. A white gap round the stone means free, on one side semi-free, none "
    "cling. Not measured: the stone and the depth of the skin, drawn in proportion, and the height, which is not drawn; the small sign "
    "marks a flat fruit."
)


def _figure(asked: Question, found: SideBySide, name: str, side: float, pictures: Shown | None) -> Markup:
    fruit = found.fruit[name]
    lines = [drawn.diameters_told(fruit, asked.units), *drawn.words(fruit)]
    said = Markup("<b>{}</b><br>{}").format(name, ", ".join(lines))
    return Markup("<figure>{}<figcaption>{}</figcaption>{}</figure>").format(
        drawn.drawing(fruit, asked.units, side), said, photographs(asked, name, pictures)
    )
