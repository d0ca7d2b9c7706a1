"""Which fruit were sampled: declared, checked, told, and what is built on it."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.records import read
from dashboard.records.summary import sample_summaries
from dashboard.records.taken import ALL, BEST, COMMERCIAL, Taken, borne_out, undersized
from tests.records.small import DECLARED, tables, write_folder
from tests.records.test_declaration import of


@pytest.mark.parametrize(
    ("items", "meant"),
    [
        ({}, Taken()),
        ({"fruit_taken": "All"}, Taken()),
        ({"fruit_taken": "best"}, Taken(BEST)),
        ({"fruit_taken": "commercial"}, Taken(COMMERCIAL)),
        ({"fruit_taken": "commercial", "smallest_taken_mm": "57.15"}, Taken(COMMERCIAL, 57.15)),
    ],
)
def test_what_is_declared_is_taken(items, meant):
    declaration, problems = of({"tip_mm": 8} | items)
    assert (declaration.taken, problems) == (meant, [])
    assert [one for one in declaration.sentences if "sampled" in one] == list(filter(None, [meant.sentence]))


@pytest.mark.parametrize(
    ("items", "meant", "column"),
    [
        ({"fruit_taken": "some"}, Taken(), "fruit_taken"),
        ({"fruit_taken": "commercial", "smallest_taken_mm": "small"}, Taken(COMMERCIAL), "smallest_taken_mm"),
        ({"fruit_taken": "commercial", "smallest_taken_mm": 2.25}, Taken(COMMERCIAL), "smallest_taken_mm"),
        ({"fruit_taken": "best", "smallest_taken_mm": 57}, Taken(BEST), "smallest_taken_mm"),
        ({"smallest_taken_mm": 57}, Taken(), "smallest_taken_mm"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_built_on_it(items, meant, column):
    declaration, (problem,) = of({"tip_mm": 8} | items)
    assert declaration.taken == meant
    assert problem.column == column


def test_each_way_has_its_own_words_and_all_alike_has_none():
    ways = [Taken(BEST), Taken(COMMERCIAL), Taken(COMMERCIAL, 57.15)]
    assert (Taken().sentence, Taken().mark) == ("", "")
    assert len({way.sentence for way in ways}) == len({way.mark for way in ways}) == 3
    assert "2.25 in (57.15 mm)" in ways[2].sentence


def test_summaries_say_it_where_it_is_not_all_fruit(tmp_path):
    plain = sample_summaries(read(write_folder(tmp_path / "all", tables(), DECLARED)))
    assert not {"size_taken", "size_floor"} & set(plain)
    about = DECLARED | {"fruit_taken": "commercial", "smallest_taken_mm": 25}
    told = sample_summaries(read(write_folder(tmp_path / "some", tables(), about)))
    assert (told["size_taken"] == COMMERCIAL).all()
    assert (told["size_floor"] == 25).all()
    assert told["size"].equals(plain["size"])


def test_a_smallest_size_that_many_fruit_lie_under_is_flagged_and_not_built_on(tmp_path):
    about = DECLARED | {"fruit_taken": "commercial", "smallest_taken_mm": 110}
    records = read(write_folder(tmp_path, tables(), about))
    (flag,) = [problem for problem in records.problems if "smallest that was sampled" in problem.rule]
    assert (flag.severity, flag.table if hasattr(flag, "table") else "fruit") == ("flag", "fruit")
    assert sample_summaries(records)["size_floor"].isna().all()


def test_half_a_millimeter_and_one_fruit_in_fifty_may_be_under_it():
    how, size = Taken(COMMERCIAL, 57.0), np.full(100, 60.0)
    assert undersized(how, [56.5, 56.4]).tolist() == [False, True]
    size[:2] = 50
    assert borne_out(how, size) == how
    size[2] = 50
    assert borne_out(how, size) == Taken(COMMERCIAL)
    assert not undersized(Taken(BEST), size).any()
    assert Taken(ALL) == Taken()
