"""The schema keeps its own rules."""

from __future__ import annotations

import pytest

from dashboard.records.schema import FIRMNESS, KINDS, RATINGS, REQUIRED, TABLES
from dashboard.terms.units import UNITS

COLUMNS = [(table, column) for table in TABLES.values() for column in table.columns]
IDS = [f"{table.name}.{column.name}" for table, column in COLUMNS]


@pytest.mark.parametrize(("table", "column"), COLUMNS, ids=IDS)
def test_a_column_is_of_a_known_kind_and_says_what_it_means(table, column):
    assert column.kind in KINDS
    assert column.meaning
    assert bool(column.words) == (column.kind == "class")


@pytest.mark.parametrize(("table", "column"), COLUMNS, ids=IDS)
def test_what_is_usual_lies_within_what_is_possible(table, column):
    if column.flag:
        assert column.refuse is not None
        assert column.refuse[0] <= column.flag[0] < column.flag[1] <= column.refuse[1]


@pytest.mark.parametrize(("table", "column"), COLUMNS, ids=IDS)
def test_a_name_refers_to_a_table_that_is_read_before(table, column):
    names = list(TABLES)
    if column.refers:
        assert names.index(column.refers) < names.index(table.name)
        assert len(TABLES[column.refers].key) == 1


@pytest.mark.parametrize("table", TABLES.values(), ids=list(TABLES))
def test_keys_are_columns_and_needed_but_for_the_hour(table):
    assert set(table.key) <= set(table.by_name)
    assert {name for name in table.key if not table.by_name[name].needed} <= {"hour"}


def test_no_heading_means_two_columns():
    for table in TABLES.values():
        spellings = [spelling for column in table.columns for spelling in column.spellings]
        assert len(spellings) == len(set(spellings))


@pytest.mark.parametrize(
    ("table", "column", "spellings"),
    [
        ("fruit", "suture_mm", {"suture_mm": "mm", "suture_cm": "cm", "suture_in": "in"}),
        ("fruit", "firmness_1_n", {"firmness_1_n": "n", "firmness_1_kgf": "kgf", "firmness_1_lbf": "lbf"}),
        ("weather", "tmin_c", {"tmin_c": "c", "tmin_f": "f"}),
        ("yields", "kg_per_tree", {"kg_per_tree": "kg", "lb_per_tree": "lb"}),
    ],
)
def test_a_measured_column_may_be_headed_in_each_of_its_units(table, column, spellings):
    accepted = TABLES[table].by_name[column].spellings
    assert accepted == {heading: UNITS[suffix] for heading, suffix in spellings.items()}


def test_the_tables_of_a_page_are_required_and_the_rest_is_not():
    assert REQUIRED == ("cultivars", "sites", "samples", "fruit")


def test_ratings_and_firmness_are_found_by_what_they_are():
    assert RATINGS == ("shape", "fuzz", "red", "attractiveness")
    assert FIRMNESS == ("firmness_1_n", "firmness_2_n", "firmness_n", "firmness_sd_n")
