"""One cultivar among all: shares counted by hand, ties, what is not measured, and what a market turns round."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.among import BINS, among, way
from dashboard.answers.question import Question
from dashboard.market import Wish
from dashboard.terms.traits import TRAITS
from dashboard.wording.among import figures, stands


def values(**estimates: list[float]) -> dict[str, pd.DataFrame]:
    """By trait, of cultivars a, b, c …; a trait that is not named has no row."""
    made = {}
    for trait in TRAITS:
        of = estimates.get(trait, [])
        frame = pd.DataFrame({"estimate": of, "low": of, "high": of}, index=list("abcdefghij"[: len(of)]))
        made[trait] = frame.astype(float)
    return made


def told(frames: dict[str, pd.DataFrame], name: str) -> str:
    (one,) = among(frames, name)
    return stands(one)


@pytest.mark.parametrize(
    ("name", "said"),
    # Of seven, six have strictly less than a, five less than b. c and d tie: neither is told as better than its tie.
    [
        ("a", "larger than 85 %"),
        ("b", "larger than 71 %"),
        ("c", "larger than 42 %"),
        ("d", "larger than 42 %"),
        ("g", "among the least"),
    ],
)
def test_where_more_is_better_the_share_that_has_strictly_less(name, said):
    assert told(values(size=[70, 65, 60, 60, 55, 50, 40]), name) == said


@pytest.mark.parametrize(
    ("name", "said"),
    # Of six, four have strictly more than a and b each; f has the most.
    [("a", "fewer than 66 %"), ("b", "fewer than 66 %"), ("e", "fewer than 16 %"), ("f", "among the most")],
)
def test_where_less_is_better_the_share_that_has_strictly_more(name, said):
    assert told(values(split_pit=[0, 0, 5, 8, 9, 20]), name) == said


def test_where_neither_is_better_it_is_told_just_where_it_stands():
    frames = values(firmness=[10, 20, 30, 40])
    assert [told(frames, name) for name in "abcd"] == [
        "among the least", "firmer than 25 %", "firmer than 50 %", "firmer than 75 %",
    ]  # fmt: skip
    assert told(values(cheek_difference=[1, 2]), "a") == "more even than 50 %"
    assert told(values(shape=[2, 4]), "b") == "better than 50 %"


def test_one_alone_and_all_alike_are_never_told_as_the_best():
    assert told(values(size=[60]), "a") == "no other to compare"
    assert told(values(size=[60, 60, 60]), "b") == "the same as all"


def test_what_is_not_known_counts_for_nobody_and_has_no_row():
    frames = values(size=[70, np.nan, 60, np.nan])
    (one,) = among(frames, "c")
    assert (one.known, one.above, one.below) == (2, 1, 0)
    assert among(frames, "b") == ()
    assert among(frames, "nobody") == ()


def test_an_interval_that_is_not_known_is_said():
    frames = values(size=[70, 60])
    frames["size"].loc["a", ["low", "high"]] = np.nan
    (one,) = among(frames, "a")
    assert figures(one, "si") == ("70.0", "range not known")


def test_every_cultivar_is_in_the_histogram_once_and_the_interval_on_its_axis(demo):
    for one in among(demo.values, "Sibbrel"):
        known = demo.values[one.trait]["estimate"].notna().sum()
        assert len(one.counts) == BINS
        assert sum(one.counts) == one.known == known
        assert one.span[0] <= one.low <= one.value <= one.high <= one.span[1]


def test_a_buyer_who_wants_less_or_a_target_turns_the_words(demo):
    market = Question(demo, market="roadside_stand").profile
    wish = next(one for one in market.wishes if one.key == "firmness")
    assert (way("firmness", None), way("size", None), way("split_pit", None)) == ("depends", "more", "less")
    for shape, better in (("larger", "more"), ("smaller", "less"), ("target", "depends")):
        assert isinstance(wish, Wish)
        assert way("firmness", replace(market, wishes=(_shaped(wish, shape),))) == better


def _shaped(wish: Wish, shape: str) -> Wish:
    target = {"larger": wish.high, "smaller": wish.low, "target": (wish.low + wish.high) / 2}[shape]
    return replace(wish, shape=shape, target=target)
