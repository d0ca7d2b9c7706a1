"""A notebook asks whether it thrives at a place."""

from __future__ import annotations

import pytest

from dashboard.answers.question import Question
from dashboard.calls.asked import Asked
from dashboard.calls.understood import AskError
from dashboard.places import warm_weather
from dashboard.wording.my_site import CAUTIONS


@pytest.fixture(scope="module")
def ask(well_recorded) -> Asked:
    return Asked(Question(well_recorded))


def test_who_goes_short_most_often_comes_first(ask):
    table = ask.site("River")
    assert table["winters_in_10"].is_monotonic_increasing
    assert table.said[0].startswith("In 9 winters of 10, River had at least")
    assert "Chill figures are estimates, not insurance." in table.cautions
    assert set(CAUTIONS) <= set(table.cautions)
    assert len(set(table.cautions)) == len(table.cautions)
    assert any("How a need was found is not on record." in one for one in table.said)
    assert {"bacterial_spot", "hail_samples"} <= set(table.columns)


def test_a_file_of_ones_own_is_read(ask):
    assert (
        ask.site(weather=str(warm_weather())).said[0].startswith("In 9 winters of 10, weather had at least")
    )


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ({"name": "Nowhere"}, "There is no weather of a site 'Nowhere'; there is some of Hill, River."),
        ({"higher": 60}, "The elevation of Hill is not on record"),
        ({"higher": "much"}, "Meters above the station are a number"),
        ({"weather": "none.csv"}, "none.csv cannot be opened"),
    ],
)
def test_what_cannot_be_told_is_said(ask, asked, why):
    with pytest.raises(AskError, match=why):
        ask.site(**asked)


def test_the_column_of_a_ranking_holds_the_same_figures(ask):
    ranked = ask.ranking(columns="winters")
    here = ask.site()
    assert ranked.loc[here.index, "winters_in_10"].tolist() == here["winters_in_10"].tolist()
