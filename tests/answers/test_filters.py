"""What was ticked, what each other tick would leave, and what to untick when nothing is left."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.answers import catalogue as catalogues
from dashboard.answers.choices import FILTERS, Filters
from dashboard.answers.filters import counts, emptied, passes
from dashboard.ripening import day_label, halves

HALVES = ("06b", "07a", "07b", "08a", "08b")
STATUS = ("released", "numbered selection")


@st.composite
def asked(draw, catalogue) -> Filters:
    """Any filters on offer, and for the seasons more than are."""
    drawn: dict[str, Any] = {"seasons": draw(st.integers(0, 5))}
    for name, choice in FILTERS.items():
        options = choice.options(catalogue)
        if choice.several:
            drawn[name] = tuple(draw(st.lists(st.sampled_from(options), max_size=2, unique=True)))
        elif name not in drawn:
            drawn[name] = draw(st.sampled_from(options))
    return Filters(**drawn)


def names(catalogue, filters: Filters) -> list[str]:
    return catalogue.cultivars.index[passes(catalogue, filters)].tolist()


def test_nothing_ticked_takes_every_cultivar_that_was_ever_picked(catalogue):
    assert names(catalogue, Filters()) == [name for name in catalogue.cultivars.index if name != "Unpicked"]
    assert "Unpicked" in names(catalogue, Filters(seasons=0))


def test_options_of_one_field_add_up_and_fields_narrow_each_other(catalogue):
    assert names(catalogue, Filters(flesh_colour=("white", "red"))) == [
        "Candover",
        "Dunmarrow",
        "Farrowby",
        "Harrowmead",
    ]
    assert names(catalogue, Filters(flesh_colour=("white", "red"), stone=("cling",))) == [
        "Dunmarrow",
        "Harrowmead",
    ]


def test_what_was_not_recorded_can_be_asked_for(catalogue):
    assert names(catalogue, Filters(flesh_colour=("not recorded",))) == ["T 16-007"]


def test_a_word_nobody_uses_passes_nobody(catalogue):
    assert not names(catalogue, Filters(stone=("velvet",)))


def test_a_window_passes_when_it_touches_the_half_month(catalogue):
    window = catalogue.windows.loc["T 14-203"]
    assert (window["first"], window["last"]) == pytest.approx((214.9, 222.4), abs=0.05)  # 3 to 10 August
    assert "T 14-203" in names(catalogue, Filters(ripening=("08a",)))
    assert "T 14-203" not in names(catalogue, Filters(ripening=("07b",)))
    assert "T 14-203" in names(catalogue, Filters(ripening=("07b", "08a")))


@pytest.mark.parametrize("day", [212.0, 212.4, 212.6, 213.0, 226.4, 227.4, 227.6])
def test_a_single_day_is_in_the_half_month_of_the_date_it_is_written_as(catalogue, day):
    windows = catalogue.windows.assign(first=day, last=day)
    one_day = replace(catalogue, windows=windows)
    month, date = day_label(day).split()
    expected = f"{('Jul', 'Aug').index(month) + 7:02d}{'a' if int(date) <= 15 else 'b'}"
    passing = [half for half in HALVES if names(one_day, Filters(ripening=(half,)))]
    assert passing == [expected]
    assert list(halves(windows)) == [expected]


def test_every_picked_cultivar_is_in_some_half_month(catalogue):
    every = halves(catalogue.windows, catalogue.south)
    assert names(catalogue, Filters(ripening=every)) == names(catalogue, Filters())


@given(data=st.data())
def test_each_count_is_what_choosing_it_really_leaves(well_recorded, data):
    filters = data.draw(asked(well_recorded))
    told = counts(well_recorded, filters)
    assert tuple(told) == tuple(FILTERS)
    for field, choice in FILTERS.items():
        assert tuple(told[field]) == choice.options(well_recorded)
        for option, count in told[field].items():
            alone = replace(filters, **{field: (option,) if choice.several else option})
            assert count == len(names(well_recorded, alone))


@given(data=st.data())
def test_asking_for_more_never_brings_a_cultivar_in(well_recorded, data):
    filters = data.draw(asked(well_recorded))
    field = data.draw(st.sampled_from(tuple(FILTERS)))
    options, before = FILTERS[field].options(well_recorded), getattr(filters, field)
    if FILTERS[field].several:
        every = before or options
        tighter = every[: data.draw(st.integers(1, len(every)))]
    elif FILTERS[field].default is None:  # at most
        lower = [one for one in options if one is not None and (before is None or one <= before)]
        tighter = data.draw(st.sampled_from(lower or [before]))
    else:  # at least
        tighter = before + data.draw(st.integers(0, 3))
    narrowed = replace(filters, **{field: tighter})
    assert set(names(well_recorded, narrowed)) <= set(names(well_recorded, filters))


@given(data=st.data())
def test_when_nothing_is_left_the_filter_that_brings_back_most_is_named(well_recorded, data):
    filters = data.draw(asked(well_recorded))
    told = emptied(well_recorded, filters)
    if names(well_recorded, filters):
        assert told is None
        return
    untouched = Filters(seasons=min(1, filters.seasons))
    left = {
        field: len(names(well_recorded, replace(filters, **{field: getattr(untouched, field)})))
        for field in FILTERS
    }
    if told.field:
        assert told.would_leave == left[told.field] == max(left.values()) > 0
        assert str(told.would_leave) in told.sentence
        assert str(told.would_leave) in told.offer
    else:
        assert not any(left.values())
        assert told.would_leave == len(names(well_recorded, untouched))


def test_the_sentence_says_which_filter_and_how_many(catalogue):
    told = emptied(catalogue, Filters(flesh_colour=("white",), shape_type=("flat",)))
    assert (
        told.sentence
        == "No cultivar passes every filter; without the one on shape type (flat) there would be 3."
    )
    assert (told.field, told.would_leave) == ("shape_type", 3)
    late = emptied(catalogue, Filters(flesh_colour=("white",), ripening=("08b",)))
    assert "picking time (Aug 16–31)" in late.sentence


def test_asking_for_more_seasons_than_there_are_is_said(catalogue):
    told = emptied(catalogue, Filters(flesh_colour=("white",), seasons=9))
    assert told.field == "seasons"
    assert "seasons (at least 9)" in told.sentence


def test_when_two_filters_are_to_blame_none_is_named(catalogue):
    told = emptied(catalogue, Filters(fruit_type=("nectarine",), shape_type=("flat",), flesh_colour=("red",)))
    assert told.field == ""
    assert told.would_leave == 11


def test_an_empty_catalogue_says_so(catalogue):
    nothing = catalogues.catalogue(
        catalogue.cultivars.iloc[:0].reset_index(),
        catalogue.summaries.iloc[:0],
        catalogue.fruit.iloc[:0],
        sites=catalogue.sites,
        markets={},
    )
    assert emptied(nothing, Filters()).sentence == "No cultivar has been picked yet."
    assert FILTERS["seasons"].options(nothing) == (1,)
    assert counts(nothing, Filters())["fruit_type"] == {"peach": 0, "nectarine": 0}


def test_options_are_the_words_of_the_trade_and_then_what_else_is_recorded(catalogue):
    assert FILTERS["flesh_colour"].options(catalogue) == ("yellow", "white", "red", "not recorded")
    assert set(FILTERS["status"].options(catalogue)) == set(STATUS)


def test_the_same_filters_give_the_same_objects_and_nobody_can_write_into_them(catalogue):
    for question in (passes, counts, emptied):
        assert question(catalogue, Filters(stone=("free",))) is question(catalogue, Filters(stone=("free",)))
    with pytest.raises(ValueError, match="read-only"):
        passes(catalogue, Filters())[0] = False
