"""The choices beside every tab: market, filters with what each would leave, units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from markupsafe import Markup
from panel.viewable import Viewable

from dashboard.answers.choices import CHOICES, FILTERS
from dashboard.answers.choosing import as_text
from dashboard.answers.filters import untold, would_leave
from dashboard.answers.question import Question
from dashboard.market.placed import unplaced
from dashboard.page.frame.market import market_editor
from dashboard.page.parts import live
from dashboard.page.parts.elements import ChoiceBoxes, Prose, paragraphs
from dashboard.page.parts.name_lists import TOO_MANY
from dashboard.page.parts.ticking import tick
from dashboard.visit.state import State
from dashboard.wording.boxes import UNCOUNTED, choice_group, filter_groups, group_of
from dashboard.wording.figures import limits_short, market_told

NO_MARKET = "A market sets limits the fruit must meet, and wishes that rank what qualifies. The number beside a market is how many qualify."

OFFERS = "Put these offers on my slate ({})"
NO_MARKET_ASKED = "What a market is"
NO_PLACE = "This market asks for winter chill, and no station is chosen. Choose one under My site: until then nothing can qualify."


def filters(state: State) -> list[Viewable]:
    asked = state.question
    about = Prose(margin=(0, 10))
    markets, others = (
        ChoiceBoxes(lambda field, values: ticked(state, field, values), groups=made, margin=(5, 10))
        for made in (market_groups(asked), filter_groups(asked))
    )
    offers = live.button("", lambda: _take_offers(state), variant="outlined", sizing_mode="stretch_width")
    over = live.button(
        "Take all filters off", state.start_over, variant="outlined", sizing_mode="stretch_width"
    )

    def show(*_parts) -> None:
        if unboxed(state.question, others.groups):
            others.groups = filter_groups(state.question)
        for boxes in (markets, others):
            boxes.tell([told(state.question, group, state.kept) for group in boxes.groups])

    def explain(*_parts) -> None:
        about.say(about_told(state.question))

    def offered(*_parts) -> None:
        names = _offers(state.question)
        offers.visible, offers.label = bool(names), OFFERS.format(len(names))

    live.follow(state, offered, "passes", "nursery", "shortlist")
    live.follow(state, show, "counts", "market_counts", "market", "second", "own", *UNCOUNTED, *FILTERS)
    live.follow(state, explain, "profile", "units")
    afresh = live.button("Start afresh", state.start_afresh, variant="text", sizing_mode="stretch_width")
    return [markets, about, market_editor(state), others, offers, over, afresh]


def _offers(asked: Question) -> list[str]:
    """What the ticked nurseries offer, the filters pass and the slate does not hold yet."""
    if not asked.nursery:
        return []
    return [
        str(name) for name in asked.catalogue.cultivars.index[asked.passes] if name not in asked.shortlist
    ]


def _take_offers(state: State) -> None:
    slate = (*state.shortlist, *_offers(state.question))
    fits = state.fits(shortlist=slate)
    state.choose(**{"shortlist": slate} if fits else {"notices": (TOO_MANY.format("my slate"),)})


def market_groups(asked: Question) -> list[dict]:
    names = {
        "": "no market: show everything",
        **{key: market.name for key, market in asked.catalogue.markets.items()},
    }
    first = group_of("market", "Who do you sell to?", names, single=True, look="lines")
    return [first, choice_group(asked.catalogue, "second", fold="A second buyer")]


def about_told(asked: Question) -> Markup:
    """The limits in one line, which opens to the rest: as high for every market, so that no box under it moves away from a finger."""
    market = asked.profile
    line = limits_short(market, asked.units) if market else NO_MARKET_ASKED
    lines = paragraphs(about_market(asked))
    said = Markup('<details class="line quiet small"><summary title="{0}">{0}</summary>{1}</details>').format(
        line, lines
    )
    return said + (paragraphs([NO_PLACE], "quiet small") if market and unplaced(market) else "")


def about_market(asked: Question) -> tuple[str, ...]:
    """What the market asks as it stands, line by line; what its file says of it need not hold of a changed one."""
    market, base = asked.profile, asked.catalogue.markets.get(asked.market)
    if market is None:
        return (NO_MARKET,)
    whose = market.summary or market.name
    if asked.own and base:
        before = f" Said of it before your changes: “{base.summary}”" if base.summary else ""
        whose = f"{base.name}, with your changes.{before}"
    return (whose, *market_told(market, asked.units))


def told(asked: Question, group: dict, kept: Mapping[str, tuple[str, ...]]) -> dict:
    """What each option of a group would leave (nothing where a choice changes the figures, not the set), the places of the chosen
    ones, and whom the records left out; ``kept`` are the markets that would come back changed."""
    field = group["field"]
    left = _left_by_market(asked, kept) if field == "market" else _left(asked, group)
    chosen = () if field == "market" and asked.own and not asked.market else getattr(asked, field)
    picked = {as_text(value) for value in (chosen if isinstance(chosen, tuple) else (chosen,))}
    places = [place for place, option in enumerate(group["options"]) if option["value"] in picked]
    answer: dict = {"left": left, "chosen": places}
    if group["fold"] and chosen != CHOICES[field].default:
        answer["set"] = True
    if note := _note(asked, group):
        answer["note"] = note
    return answer


def unboxed(asked: Question, groups: list[dict], *names: str) -> bool:
    """Whether a filter, of ``names`` or of all, asks for a value that no box stands for: "650 hours", which a link or a notebook may ask for."""
    boxes = {(group["field"], option["value"]) for group in groups for option in group["options"]}
    filters = ((name, getattr(asked, name)) for name in names or FILTERS)
    return any(
        (name, as_text(one)) not in boxes
        for name, asked_for in filters
        if isinstance(asked_for, tuple)
        for one in asked_for
    )


def _left(asked: Question, group: dict) -> list[int]:
    """What each option of a filter's group would leave; nothing for another choice."""
    if group["field"] not in FILTERS:
        return []
    name = group["field"]
    counted = {as_text(value): left for value, left in asked.counts[name].items()}
    return [
        counted[value] if value in counted else would_leave(asked.catalogue, asked.filters, name, value)
        for value in (option["value"] for option in group["options"])
    ]


def _note(asked: Question, group: dict) -> str:
    """How many a list leaves out because the records do not tell it of them."""
    name = group["field"]
    parts = {FILTERS[name].part(option["value"]) for option in group["options"]} if name in FILTERS else set()
    left = sum(untold(asked.catalogue, asked.filters).get((name, part), 0) for part in parts)
    return f"{left:,} left out: {FILTERS[name].why_missing}" if left else ""


def _left_by_market(asked: Question, kept: Mapping[str, tuple[str, ...]]) -> list[int]:
    """How many qualify for each market, as it would come back."""
    counts = asked.market_counts
    changed = {key: replace(asked, market=key, own=own).own_count for key, own in kept.items() if key and own}
    return [changed.get(key, count).qualify for key, count in counts.items()]


def ticked(state: State, field: str, values: list[str]) -> None:
    """What a tick of one of these boxes does."""
    if field == "market":
        state.sell_to(values[0])
    else:
        tick(state, field, values)
