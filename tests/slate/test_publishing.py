"""What of a question goes into the slate that is mailed."""

from __future__ import annotations

import pytest

from dashboard.answers.my_site import MySite
from dashboard.answers.question import Question
from dashboard.slate import publishing
from dashboard.slate.rows import chill, known
from tests.site.places import place


@pytest.fixture
def asked_of(monkeypatch):
    heard: list[Question] = []
    monkeypatch.setattr(publishing, "published", lambda asked, _title: heard.append(asked) or "")
    return heard


def test_the_place_that_was_chosen_goes_along(well_recorded, asked_of):
    """Its column of winters, and a market's limit on them, are of that place and not of the first station."""
    asked = Question(
        well_recorded,
        market="packer",
        own=("enough_chill at_least 9",),
        station="River",
        columns=("winters",),
    )
    publishing.html(asked)
    publishing.html(Question(well_recorded, market="packer", weather=asked.my_site))
    chosen, brought = asked_of
    assert chosen.my_site is asked.my_site
    assert chosen.profile == asked.profile
    assert chosen.columns == ("winters", "winter_chill")  # whether or not they were asked for
    assert brought.my_site is asked.my_site
    assert brought.columns == publishing.OF_A_PLACE


def test_where_no_place_was_chosen_no_chill_is_told_of_one(well_recorded, asked_of):
    publishing.html(Question(well_recorded, market="packer"))
    (plain,) = asked_of
    assert plain.columns == ()
    assert chill(plain) is None


def test_it_knows_in_which_winters_each_goes_short(well_recorded):
    """By hand: what a winter brought against the need as recorded, in the unit it is told by."""
    asked = Question(well_recorded, market="packer", weather=MySite(well_recorded, place(mean=20.0)))
    told, names = chill(asked), known(asked)
    found = asked.my_site
    assert told["place"] == "Warm Flat"
    for name, short in zip(names, told["short"], strict=True):
        measure, need = found.enough.loc[name, ["measure", "need"]]
        if measure == "":
            assert short is None
        else:
            brought = found.winters.supply[measure]
            assert [told["years"][at] for at in short] == brought.index[brought < need].tolist()
    assert any(told["short"])
    assert None in told["short"]
