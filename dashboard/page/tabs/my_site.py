"""My site: what its winters brought, who gets enough, when it blooms and what frost would have taken."""

from __future__ import annotations

from functools import partial
from typing import Any

from markupsafe import Markup

from dashboard.answers.chill_choices import chill_bound
from dashboard.answers.choices import FILTERS
from dashboard.answers.my_site import unused_of
from dashboard.answers.question import Question
from dashboard.charts import listing
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import ChoiceBoxes, Prose, paragraphs
from dashboard.page.parts.paged import Paged, standing
from dashboard.page.parts.pressable import Fold
from dashboard.page.parts.ticking import tick
from dashboard.page.parts.twin import twin
from dashboard.page.parts.weather_bringing import Bringing
from dashboard.page.tabs.chill_asked import chill_asked
from dashboard.page.tabs.my_site_pictures import (
    SPRINGS_READ,
    dates_view,
    pictured,
    springs_drawn,
    springs_view,
    stages_view,
    winters_drawn,
    winters_read,
    winters_view,
)
from dashboard.site.needs import NEEDS
from dashboard.visit.state import State
from dashboard.wording import my_site as words
from dashboard.wording.boxes import choice_group
from dashboard.wording.column_kinds import plain
from dashboard.wording.columns import COLUMNS

PAGE = 15
LIES = "My site lies higher or lower"
PARTS = ("my_site", "shortlist", "passes")
TABLE = (
    COLUMNS["keep"], COLUMNS["mark"], COLUMNS["name"], plain("need", "Chill it needs"), plain("enough_told", "Winters with enough"),
    plain("bloom", "Full bloom, usual"), plain("frost", "Springs with over half its bloom lost"),
    COLUMNS["bacterial_spot"], COLUMNS["hail"],
)  # fmt: skip


def my_site(state: State) -> Column:
    head, picture, chilled, frost_words, frost = Prose(), Prose(), Prose(), Prose(), Prose()
    bringing = Bringing(state)
    places = ChoiceBoxes(
        partial(tick, state), groups=[choice_group(state.question.catalogue, "station"), choice_group(state.question.catalogue, "higher", LIES)], margin=(5, 10)
    )  # fmt: skip
    keep = live.button("Keep", lambda: state.choose(**keeping(state.question)[1]), variant="outlined")

    rows = Paged(state, cultivars_view)

    def show(*_parts) -> None:
        asked = state.question
        head.say(first(asked))
        picture.say(_pictured(winters_drawn(asked), winters_read(asked)))
        chilled.say(about_chill(asked))
        frost_words.say(about_frost(asked))
        frost.say(_pictured(springs_drawn(asked), SPRINGS_READ))
        keep.label, _ = keeping(asked)
        keep.visible = bool(keep.label)
        rows.draw(1)
        bringing.tell()

    def ticked(*_parts) -> None:
        away = state.weather is not None or asked_nothing(state.question)
        places.tell([
            {
                "left": [], "chosen": [[option["value"] for option in group["options"]].index(str(getattr(state, group["field"])))], "away": away,
                "set": group["field"] == "higher" and state.higher != 0,
            }
            for group in places.groups
        ])  # fmt: skip

    live.follow(state, show, *PARTS, tab="site")
    live.follow(state, ticked, "station", "higher", "my_site", tab="site")
    table_of = partial(twin, state, tab="site")
    return Column(
        head,
        chill_asked(state),
        picture,
        table_of("The winters", winters_view, "my_site"),
        table_of("Chill by date", dates_view, "my_site"),
        places,
        bringing.element,
        chilled,
        keep,
        rows.table,
        frost_words,
        frost,
        table_of("Frost by spring", springs_view, *PARTS),
        table_of("Frost by stage", stages_view, *PARTS, "units"),
        Fold("How these figures are made", Prose(METHOD)),
        sizing_mode="stretch_width",
    )


def asked_nothing(asked: Question) -> bool:
    return asked.my_site is None


def first(asked: Question) -> Markup:
    """The answer: what nine winters in ten brought, or why it cannot be told."""
    found = asked.my_site
    if found is None:
        return Markup("<h2>My site</h2>") + paragraphs([words.NO_WEATHER, *unused_of(asked.catalogue)])
    if found.refused:
        return Markup("<h2>{}</h2>").format(found.name) + paragraphs([found.refused])
    lead, *rest = words.supply_told(found)
    return Markup("<h2>{}</h2><p><b>{}</b></p>").format(found.name, lead) + paragraphs(rest)


def _pictured(drawn: Markup, read: str) -> Markup:
    return drawn + paragraphs([read], "quiet small") if drawn else drawn


def about_chill(asked: Question) -> Markup:
    found = asked.my_site
    if found is None or found.refused:
        return paragraphs(list(words.CAUTIONS), "quiet small")
    lines = [words.rounding_told(asked), *words.doubt_told(asked), *words.slate_told(asked)]
    return (
        Markup("<h3>Who gets enough</h3>")
        + paragraphs(lines)
        + paragraphs([*words.records_told(found), *words.CAUTIONS], "quiet small")
    )


def keeping(asked: Question) -> tuple[str, dict[str, tuple[str, ...]]]:
    """What a button says and chooses that lets pass only what gets enough here: the filter of a station of the records or, for a place that
    is none, bounds on what is needed; "" where that would leave all or nobody."""
    found = asked.my_site
    if found is None or found.refused:
        return "", {}
    option = f"{words.OFTEN} {found.key}"
    if option in FILTERS["enough"].options(asked.catalogue):
        return f"Keep only those with enough in {words.OFTEN} winters of 10", {"enough": (option,)}
    if found.key:
        return "", {}
    within: dict[str, tuple[int, str]] = {}
    for bound in FILTERS["chill"].options(asked.catalogue):
        told, column, most = chill_bound(bound)
        measure = next(name for name, one in NEEDS.items() if one == column)
        if within.get(measure, (0, ""))[0] < most <= found.assured[measure]:
            within[measure] = (most, bound)
    told = " or ".join(chill_bound(bound)[0] for _, bound in within.values())
    return (
        (f"Keep only those that need at most {told}", {"chill": tuple(bound for _, bound in within.values())})
        if within
        else ("", {})
    )


def about_frost(asked: Question) -> Markup:
    found = asked.my_site
    if found is None:
        return Markup("")
    if found.bloom_refused:
        return Markup("<h3>Bloom and frost</h3>") + paragraphs([found.bloom_refused])
    return Markup("<h3>Bloom and frost, had they stood there</h3>") + paragraphs(
        words.frost_told(asked, pictured(asked))
    )


def cultivars_view(asked: Question, page: int) -> dict[str, Any]:
    """A page of the cultivars: need, winters, bloom and frost, those that go short most often first."""
    found = asked.my_site
    if found is None or found.refused:
        return {"columns": [], "rows": [], "empty": ""}
    told = words.rows(asked)
    page, pages, here = standing(page, len(told), PAGE)
    part = told.iloc[here]
    frame = asked.rows_of(tuple(part.index))
    at = asked.catalogue.cultivars.index.get_indexer(part.index)
    hard = None if found.bloomed is None else (found.bloomed.lost[:, at] > 0.5).sum(axis=0)
    rows = [
        {
            **row, "name": name, "need": words.need_told(one), "enough_told": words.enough_told(one), "bloom": words.bloom_told(asked, name),
            "frost": "not known" if hard is None or found.bloomed is None else f"{hard[place]} of {len(found.bloomed.years)}",
        }
        for place, (name, row, one) in enumerate(zip(part.index.astype(str), frame.to_dict("records"), part.to_dict("records"), strict=True))
    ]  # fmt: skip
    whose = "My slate" if asked.shortlist else "All that pass your filters and have a need on record"
    return {
        "title": f"{whose} at {found.name}, those that go short most often first",
        **listing.of_its_own(asked, TABLE, rows),
        "page": page, "pages": pages, "total": len(told), "empty": "None of them has its need for chill on record.",
    }  # fmt: skip


METHOD = Markup("<ul>{}</ul>").format(
    Markup("").join(
        Markup("<li>{}</li>").format(line)
        for line in (
            "Hours of the day are told from its lowest and highest temperature and the length of the day.",
            "A chill hour is one from 0 to 7.2 °C (32 to 45 °F). Chill portions count what cold made and warm spells did not undo.",
            "A winter runs for 183 days from 1 October, in the south from 1 April.",
            "Bloom is told from the heat each cultivar has needed so far. Its error was tried on springs that were left out.",
            "Frost is told by published kill temperatures for each stage of bloom. A low spot or a windy night can differ by degrees.",
        )
    )
)
