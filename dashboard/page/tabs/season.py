"""The season: my slate's calendar and the others by class, what would close its gaps, and how sure each day is."""

from __future__ import annotations

from functools import lru_cache, partial

from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import calendar
from dashboard.charts.calendar_rows import calendar_view
from dashboard.charts.drawing import Drawing
from dashboard.charts.held import Held
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.ticking import press, tick
from dashboard.page.parts.twin import twin
from dashboard.page.tabs.closers import closers_view, gaps_told
from dashboard.page.tabs.season_rows import SeasonRows
from dashboard.page.tabs.season_tables import weeks_view, windows_view
from dashboard.visit.state import State
from dashboard.wording.boxes import choice_group
from dashboard.wording.cautions import MOVES
from dashboard.wording.figures import DATED_WITH_COVER, counted
from dashboard.wording.legend import AROUND, BAR, BAR_FLESH


def season(state: State) -> Column:
    catalogue = state.question.catalogue
    span = calendar.extent(catalogue.windows)
    held = Held(_drawing(span, catalogue.south))
    opened: list[str] = []  # classes whose rows are shown
    overview, cover = held.figures
    kind, at_once, certainty = (
        ChoiceBoxes(partial(tick, state), groups=[choice_group(catalogue, name)], margin=(5, 10))
        for name in ("season_kind", "least", "certainty")
    )
    cover_told, overview_told = Prose(), Prose()
    closers = RowTable(partial(press, state))

    def act(what: str, value: object) -> None:
        if what == "fold":
            kind_of = str(value)
            opened.remove(kind_of) if kind_of in opened else opened.append(kind_of)
            show()
        else:
            press(state, what, value)

    rows = SeasonRows(act)

    def show(*_parts) -> None:
        rows.tell(calendar_view(state.question, opened))

    def fresh(*_parts) -> None:
        calendar.fill_season(held, _by_day(state, span))
        overview_told.say(_words(state))

    def covered(*_parts) -> None:
        calendar.fill_cover(held, state.question.cover)
        asked = state.question
        chosen = asked.ripening or asked.opens or asked.closes
        weeks = ALL_WEEKS if asked.cover is not None and not chosen else Markup("")
        cover_told.say(gaps_told(asked) + weeks)

    def closing(*_parts) -> None:
        closers.tell(closers_view(state.question))

    def ticked(*_parts) -> None:
        for boxes in (kind, at_once, certainty):
            (group,) = boxes.groups
            value = str(getattr(state.question, group["field"]))
            place = [option["value"] for option in group["options"]].index(value)
            boxes.tell([{"left": [], "chosen": [place]}])

    live.follow(state, show, "windows", "fit", "strip", "shortlist", "selling", tab="season")
    live.follow(state, fresh, "windows", "fit", tab="season")
    live.follow(state, covered, "cover", "droppable", tab="season")
    live.follow(state, closing, "closers", "shortlist", tab="season")
    live.follow(state, ticked, "season_kind", "least", "certainty", tab="season")
    table = partial(twin, state, tab="season")
    return Column(
        rows,
        Prose(BELOW),
        table("Time of picking of each cultivar", windows_view, "windows", "fit", "shortlist"),
        Wrapped(kind, at_once, certainty),
        closers,
        cover_told,
        cover,
        overview_told,
        overview,
        table("Both pictures, week by week", weeks_view, "windows", "fit", "cover"),
        sizing_mode="stretch_width",
    )


@lru_cache(maxsize=8)
def _drawing(span: tuple[float, float], south: bool) -> Drawing:
    return calendar.drawing(span, south, rows=False)


def _by_day(state: State, span: tuple) -> dict:
    windows = state.question.windows
    return calendar.picked_by_day(
        windows, state.question.fit["taken"].reindex(windows.index).to_numpy(dtype=bool), span
    )


def _words(state: State) -> Markup:
    asked = state.question
    windows = asked.windows
    if not len(windows):
        return Markup("<h3>Ripe at once</h3><p>{}</p>").format(
            asked.emptied.sentence if asked.emptied else "No picks are recorded for these cultivars."
        )
    said = Markup("<h3>Ripe at once</h3><p>{}</p>").format(picked_told(asked))
    unknown = int(asked.passes.sum()) - len(windows)
    if unknown:
        said += Markup('<p class="quiet small">{} without a recorded pick: unknown, not absent.</p>').format(
            counted(unknown, "cultivar")
        )
    return said


def picked_told(asked: Question) -> str:
    """What the first picture shows, of whom, and for which buyer."""
    windows, dark = asked.windows, ""
    if asked.profile:
        taken = int(asked.fit["taken"].reindex(windows.index).sum())
        dark = f"; dark: the {taken} that qualify, or may, for {asked.profile.name}"
    return (
        f"How many of {counted(len(windows), 'cultivar')} with recorded picks are being picked on each day of {DATED_WITH_COVER[asked.season_kind]}"
        f"{dark}."
    )


ALL_WEEKS = Markup(
    '<p class="quiet small">All weeks of the season are judged; tick those you sell in under “Picked in”, and only they are.</p>'
)
BELOW = Markup('<p class="quiet small">{}</p>').format(
    f"{BAR}; {AROUND} {BAR_FLESH} Striped: may qualify. Hollow: misses the buyer. Pale red: a gap. Press a name to open the cultivar. {MOVES}"
)
