"""What is worked out before records are shown: a page that is opened then works out nothing of it."""

from __future__ import annotations

import functools
import gc
from dataclasses import replace

import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.at_hand import work_out
from dashboard.page import app

REMEMBERED = type(functools.cache(len))  # what it makes of a function
SLIGHT = {"my_site", "untold"}  # under a millisecond


def missed() -> dict[str, int]:
    """How often each remembered part of an answer was worked out."""
    every = [one for one in gc.get_objects() if isinstance(one, REMEMBERED)]
    mine = [one for one in every if one.__module__.startswith("dashboard.answers")]
    return {one.__name__: one.cache_info().misses for one in mine if one.__name__ not in SLIGHT}


@pytest.mark.parametrize("records", ["well_recorded", "without_chances"])
def test_the_first_page_finds_all_it_asks(records, request, monkeypatch):
    new = replace(request.getfixturevalue(records))  # another object, of which nothing is remembered
    monkeypatch.setattr(catalogues, "load", lambda _: new)
    app.prepare()
    before = missed()
    work_out(new)
    worked = missed()
    assert worked["fits"] > before["fits"]
    app.page()
    assert missed() == worked
