"""Every choice there is: declared so that all that is made from it can stand, and each filter lets pass whom it should."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.answers.choices import CHOICES, FILTERS, Filters
from dashboard.answers.filters import passes
from dashboard.answers.question import Comparison

SENTENCES = ("short", "full", "relaxed")


def names(catalogue, **asked) -> set[str]:
    """Who passes, as initials: no two of the twelve share one but the numbered ones, which keep their number."""
    passing = catalogue.cultivars.index[passes(catalogue, Filters(**asked))]
    return {name[0] if name[0] != "T" else name for name in passing}


def test_filters_come_first_and_every_default_asks_for_nothing(catalogue):
    assert tuple(CHOICES)[: len(FILTERS)] == tuple(FILTERS)
    everybody = passes(catalogue, Filters())
    for name, choice in FILTERS.items():
        assert getattr(Filters(), name) == choice.default
        assert (passes(catalogue, replace(Filters(), **{name: choice.default})) == everybody).all()


@pytest.mark.parametrize("name", FILTERS)
def test_every_filter_has_its_words_and_each_of_them_holds_what_was_asked(name):
    choice = FILTERS[name]
    assert choice.label[0].isupper()
    assert choice.passes is not None
    for sentence in SENTENCES:
        assert getattr(choice, sentence).count("{}") == 1, sentence


@pytest.mark.parametrize("name", FILTERS)
def test_no_two_options_read_alike(well_recorded, name):
    told = list(FILTERS[name].listed(well_recorded).values())
    assert len(told) > 1
    assert len(set(told)) == len(told)


def test_what_names_a_choice_is_no_part_of_the_answer():
    """A field would hide the part of that name."""
    parts = {name for name in vars(Comparison) if not name.startswith("_")}
    assert not set(CHOICES) & {name for name in parts if isinstance(vars(Comparison)[name], property)}
