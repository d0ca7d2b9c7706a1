"""Every choice there is: declared so that all that is made from it can stand, and each filter lets pass whom it should."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest

from dashboard.answers.choices import CHOICES, FILTERS, Filters
from dashboard.answers.filters import passes
from dashboard.answers.question import Question
from dashboard.wording.figures import choices_told, filters_told

SENTENCES = ("short", "full", "relaxed")


def names(catalogue, **asked) -> set[str]:
    """Who passes, by initial; the numbered ones by their number."""
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
    parts = {name for name in vars(Question) if not name.startswith("_")}
    assert not set(CHOICES) & {name for name in parts if isinstance(vars(Question)[name], property)}


def test_flesh_texture_is_asked_in_the_trade_s_words(well_recorded, demo):
    assert FILTERS["flesh_texture"].options(demo) == ("melting", "non-melting", "stony hard", "not recorded")
    assert names(well_recorded, flesh_texture=("stony hard",)) == {"E", "T 16-007"}
    asked = Question(well_recorded, flesh_texture=("stony hard", "non-melting"))
    assert filters_told(asked) == "flesh texture stony hard or non-melting"
    assert choices_told(asked) == ["stony hard or non-melting flesh"]


def test_bacterial_spot_at_most_takes_no_cultivar_that_was_never_rated(well_recorded, catalogue):
    """By hand: rated 0 to 2 are Aldermere, Briskwell, Candover, Harrowmead and both T 14-203 and T 16-007; two were never rated."""
    assert FILTERS["bacterial_spot"].options(well_recorded) == (None, 0, 1, 2, 3, 4)
    assert FILTERS["bacterial_spot"].options(catalogue) == ()  # all rated 1: no step parts them
    assert names(well_recorded, bacterial_spot=2) == {"A", "B", "C", "H", "T 14-203", "T 16-007"}
    assert names(well_recorded, bacterial_spot=0) == {"A", "T 16-007"}
    asked = Question(well_recorded, bacterial_spot=2)
    assert filters_told(asked) == "bacterial spot at most 2 (2 left out: not recorded)"
    assert choices_told(asked) == ["bacterial spot at most 2 (2 left out: not recorded)"]
    flat = Question(well_recorded, bacterial_spot=2, shape_type=("round",))  # of the two, one is flat
    assert filters_told(flat).endswith("bacterial spot at most 2 (1 left out: not recorded)")


def test_every_cultivar_of_the_demo_passes_a_bound_misses_it_or_is_told_as_not_rated(demo):
    rated = demo.cultivars["bacterial_spot"]
    asked = Question(demo, bacterial_spot=1)
    every = Question(demo).passes
    assert set(rated[asked.passes]) == {0.0, 1.0}
    left = int((every & rated.isna().to_numpy()).sum())
    assert left > 0
    assert filters_told(asked) == f"bacterial spot at most 1 ({left} left out: not recorded)"


def test_chill_is_judged_in_the_unit_asked_for_and_whom_it_is_not_recorded_of_is_counted(well_recorded):
    """By hand. Hours: A 850, B 600, E 700, F 1000, G 450, T 14-203 850, T 15-118 620 (and one never picked); portions: A 60, C 38, E 50,
    G 30, H 72, T 15-118 45. D and T 16-007 have neither."""
    assert FILTERS["chill"].options(well_recorded) == (
        "450h",
        "600h",
        "750h",
        "900h",
        "30cp",
        "40cp",
        "50cp",
        "60cp",
        "70cp",
    )
    assert names(well_recorded, chill=("600h",)) == {"B", "G"}
    assert names(well_recorded, chill=("40cp",)) == {"C", "G"}
    assert names(well_recorded, chill=("600h", "40cp")) == {
        "B",
        "C",
        "G",
    }  # several options of one filter take any of them
    told = {
        bounds: filters_told(Question(well_recorded, chill=bounds))
        for bounds in (("600h",), ("40cp",), ("600h", "40cp"))
    }
    assert (
        list(told.values())
        == [
            "winter chill needed at most 600 hours (4 left out: not recorded in the unit asked for)",  # C, D, H, T 16-007
            "winter chill needed at most 40 portions (5 left out: not recorded in the unit asked for)",  # B, D, F, T 14-203, T 16-007
            "winter chill needed at most 600 hours or 40 portions (2 left out: not recorded in the unit asked for)",
        ]
    )


@pytest.mark.parametrize("bound", ["600h", "50cp"])
def test_no_cultivar_of_the_demo_passes_on_chill_that_is_recorded_in_the_other_unit_alone(demo, bound):
    columns = ("chill_requirement_h", "chill_requirement_cp")
    own, other = columns if bound == "600h" else columns[::-1]
    only_other = (demo.cultivars[own].isna() & demo.cultivars[other].notna()).to_numpy()
    asked = Question(demo, chill=(bound,))
    assert only_other.any()
    assert asked.passes.any()
    assert not (asked.passes & only_other).any()
    assert demo.cultivars.loc[asked.passes, own].max() <= (600 if bound == "600h" else 50)


def test_offered_is_what_has_trees_left_in_the_newest_season(well_recorded, catalogue):
    """By hand: Candover's offer is a year old, Aldermere is sold out at one of two, of Briskwell's trees no number is told."""
    assert FILTERS["nursery"].options(well_recorded) == ("any", "Ostravane Trees", "Quillory Nursery")
    assert names(well_recorded, nursery=("any",)) == {"A", "B", "D", "E"}
    assert names(well_recorded, nursery=("Ostravane Trees",)) == {"B", "D", "E"}
    assert names(well_recorded, nursery=("Quillory Nursery",)) == {"A", "E"}
    assert FILTERS["nursery"].options(catalogue) == ()  # no offers were recorded
    asked = Question(well_recorded, nursery=("any",))
    assert filters_told(asked) == "offered by any nursery"


def test_of_countless_nurseries_it_is_asked_whether_any_offers_it(well_recorded):
    offers = well_recorded.records_tables["nursery"]
    many = pd.concat([offers.assign(nursery=f"Nursery {number}") for number in range(30)])
    crowded = replace(well_recorded, records_tables={**well_recorded.records_tables, "nursery": many})
    assert FILTERS["nursery"].options(crowded) == ("any",)
    assert names(crowded, nursery=("any",)) == {"A", "B", "D", "E"}
