"""A market's limit on winters with enough chill: read, judged by a place's winters, and open without one."""

from __future__ import annotations

from dataclasses import dataclass, field
from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest

from dashboard.market import MarketError, fit, judged, read_market, reason
from dashboard.market.drafting import Draft
from dashboard.market.placed import placed, unplaced
from dashboard.market.profile import Limit, Market
from dashboard.market.prospects import outlook
from dashboard.market.reading import limit_of
from dashboard.market.statements import stated, statements
from dashboard.market.verdict import MISSES, NOT_KNOWN, QUALIFIES
from dashboard.market.writing import toml
from dashboard.site.needs import least_needed

LINE = "enough_chill at_least 9"
ASKED = Market("m", "Mine", "", (Limit("place", "enough_chill", at_least=9.0),))


@dataclass(frozen=True, eq=False)
class Brought:
    """Winters of a place, of which only the supply is asked."""

    refused: str = ""
    station: object = field(default_factory=lambda: SimpleNamespace(name="Warm Flat"))

    @property
    def supply(self) -> pd.DataFrame:
        return pd.DataFrame(
            {"hours": np.linspace(600.0, 1050.0, 10), "portions": np.linspace(41.0, 50.0, 10)}
        )


def cultivars(**needs) -> pd.DataFrame:
    frame = pd.DataFrame.from_dict(
        needs, orient="index", columns=["chill_requirement_cp", "chill_requirement_h"]
    )
    return frame.astype(float)


NEEDY = cultivars(Low=(30, np.nan), High=(70, np.nan), Hours=(np.nan, 400), Unknown=(np.nan, np.nan))


def verdicts(market: Market, frame: pd.DataFrame) -> pd.DataFrame:
    return judged(fit(market, frame, {}, pd.DataFrame()), outlook(market, frame, {}, {}, []))


def test_without_a_place_nobody_qualifies_and_nobody_misses():
    for market in (ASKED, placed(ASKED, None), placed(ASKED, Brought(refused="too few"))):
        assert unplaced(market)
        told = verdicts(market, NEEDY)
        assert set(told["verdict"]) == {NOT_KNOWN}
        assert not told["taken"].any()
        assert "no station is chosen" in reason(market, next(told.itertuples(index=False)), "us")


def test_a_place_decides_by_its_winters():
    market = placed(ASKED, Brought())
    assert not unplaced(market)
    told = verdicts(market, NEEDY)
    assert told["verdict"].tolist() == [QUALIFIES, MISSES, QUALIFIES, NOT_KNOWN]
    assert reason(market, told.loc["High"], "us") == "Misses: enough chill in 0 winters of 10, 9 wanted"
    assert "chill needed not recorded" in reason(market, told.loc["Unknown"], "us")


def test_a_need_that_was_rounded_makes_the_chance():
    """Nine winters of these ten brought 42 portions or more; 43, rounded to 5... by hand: of 40 to 45, two fifths lie at or below 42."""
    frame = cultivars(A=(42.5, np.nan), B=(40, np.nan), C=(45, np.nan))
    frame["chill_requirement_cp"] = [
        40.0,
        45.0,
        50.0,
    ]  # all multiples of 5: rounded to 5, each within 2.5 of itself
    clears = verdicts(placed(ASKED, Brought()), frame)["clears"]
    assert clears.tolist() == pytest.approx(
        [0.9, 0.0, 0.0], abs=0.006
    )  # 37.5 to 42.5: nine tenths lie at or below 42


def test_the_most_that_may_be_needed_is_what_so_many_winters_brought():
    supply = np.array([5.0, 1.0, 4.0, 2.0, 3.0, 10.0, 9.0, 8.0, 7.0, 6.0])
    assert [least_needed(supply, share) for share in (0.1, 0.9, 1.0)] == [10.0, 2.0, 1.0]
    for need in np.arange(0.5, 11):
        for tenth in range(1, 11):
            assert (need <= least_needed(supply, tenth / 10)) == (
                (supply >= need).mean() >= tenth / 10 - 1e-9
            )


def test_another_market_is_left_as_it_is():
    plain = Market("p", "Plain", "", (Limit("trait", "size", at_least=60.0),))
    assert placed(plain, Brought()) is plain
    assert placed(None, Brought()) is None


def test_it_is_written_and_read_as_every_limit(tmp_path):
    market = stated([LINE])
    assert statements(market) == (LINE,)
    file = tmp_path / "mine.toml"
    file.write_text(toml(market, "us"), encoding="utf-8")
    assert read_market(file).limits == market.limits
    draft = Draft(market, "us")
    (part,) = draft.parts
    assert part.fields == ("at_least",)
    draft.put(part.id, "at_least", "8")
    assert draft.lines == ("enough_chill at_least 8",)
    draft.remove(part.id)
    assert "enough_chill" not in draft.missing("wish")
    draft.add("limit", "enough_chill", ())
    assert draft.lines == (LINE,)


@pytest.mark.parametrize(
    ("entries", "rule"),
    [
        ({"at_least": 0}, "must be above 0 and at most 10; 9 asks for 9 winters of 10"),
        ({"at_least": 90}, "must be above 0 and at most 10"),
        ({"at_most": 3}, "at_most = 3: has no meaning for enough_chill; write at_least = 9 alone"),
        ({"at_least": 9, "share": 0.8}, "share = 0.8: has no meaning"),
        ({"at_least": "nine"}, "must be a number"),
        ({}, "at_least: is missing"),
        ({"at_least": 9, "unit": "mm"}, "does not measure winters with enough chill"),
    ],
)
def test_what_it_cannot_say_is_told(entries, rule):
    with pytest.raises(MarketError) as told:
        limit_of({"trait": "enough_chill", **entries}, "limit 1")
    assert rule in str(told.value)
