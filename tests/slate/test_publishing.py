"""What of a question goes into the slate that is mailed."""

from __future__ import annotations

import pytest

from dashboard.answers.question import Question
from dashboard.slate import publishing


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
    assert chosen.columns == ("winters",)
    assert brought.my_site is asked.my_site
