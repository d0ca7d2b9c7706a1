"""A sheet that stands as far from the others as another unit would put it is asked about by itself; nothing is asked where figures agree."""

from __future__ import annotations

from datetime import timedelta
from functools import partial
from pathlib import Path

import xlsxwriter

from dashboard.records.importing.grouped import together
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.mapping import Question
from dashboard.records.importing.roles import ROLES, unit_meant
from dashboard.records.importing.together import singly
from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.importing.season import Replies, Sample, adds_up, is_true, season

HEAD = ("Cultivar", "Site", "Date", "Fruit", "Suture", "Cross", "Press 1", "Press 2", "Brix")


def book(path: Path, sheets: dict[str, tuple[list[Sample], float, float]]) -> None:
    """By sheet its samples, millimeters a unit of its diameters, and newtons a unit of its pressures."""
    with xlsxwriter.Workbook(path) as whole:
        for name, (samples, length, force) in sheets.items():
            sheet = whole.add_worksheet(name)
            sheet.write_row(0, 0, HEAD)
            rows = [(sample, number) for sample in samples for number in range(10)]
            for line, (sample, number) in enumerate(rows, 1):
                si = sample.si[number]
                figures = [*(si[:2] / length), *(si[2:4] / force), si[4]]
                sheet.write_row(line, 0, [sample.cultivar, sample.site, sample.day.isoformat(), number + 1, *figures])  # fmt: skip


def moved(samples: list[Sample], weeks: int) -> list[Sample]:
    for sample in samples:
        sample.day += timedelta(days=7 * weeks)
    return samples


class ByQuantity(Replies):
    """The sheets of the south are in mm and kg, all others in inches and lb."""

    def __call__(self, question: Question) -> str:
        if not {"unit", "unit_of"} & {question.path[-1], question.path[-2]}:
            return super().__call__(question)
        self.asked.append(question)
        size = "mm" in question.options
        if str(question.path[-1]).endswith("south"):
            return "mm" if size else "kgf"
        return "in" if size else "lbf"


def brought(path: Path, trial: Path) -> list[Question]:
    """What was asked of units."""
    replies = ByQuantity({"tip_mm": "8", "temperature_compensated": "yes"})
    outcome = bring_in([path], trial, ask=singly(replies))
    adds_up(outcome)
    assert outcome.counts["aside"] == 0
    return [one for one in replies.asked if {"unit", "unit_of"} & {one.path[-1], one.path[-2]}]


OURS, THEIRS = (25.4, N_PER_LBF), (1.0, N_PER_KGF)


def test_sheets_as_far_apart_as_two_units_are_asked_about_at_once_each_by_itself(tmp_path):
    first, second, third = (moved(season(1, seed=seed), seed) for seed in (1, 2, 3))
    book(tmp_path / "a.xlsx", {"north": (first, *OURS), "south": (second, *THEIRS), "west": (third, *OURS)})
    asked = brought(tmp_path / "a.xlsx", tmp_path / "trial")
    assert {one.path[-3:] for one in asked} == {(heading, "unit_of", f"a.xlsx: {sheet}") for heading in HEAD[4:8] for sheet in ("north", "south", "west")}  # fmt: skip
    (group,) = together([one for one in asked if one.path[3] in ("Suture", "Cross")])
    assert [(part.name, part.place, part.first.proposal) for part in group.parts] == [
        ("Suture, Cross", "a.xlsx: north, west", ""), ("Suture, Cross", "a.xlsx: south", "mm"),
    ]  # fmt: skip
    is_true(tmp_path / "trial", [*first, *second, *third])


def test_a_later_sheet_in_another_unit_is_asked_about_by_itself(tmp_path):
    first, second = (moved(season(1, seed=seed), seed) for seed in (1, 2))
    book(tmp_path / "a.xlsx", {"north": (first, *OURS)})
    assert [one.path[-1] for one in brought(tmp_path / "a.xlsx", tmp_path / "trial")] == ["unit"] * 4
    book(tmp_path / "b.xlsx", {"south": (second, *THEIRS)})
    asked = brought(tmp_path / "b.xlsx", tmp_path / "trial")
    assert [one.path[-3:] for one in asked] == [(heading, "unit_of", "b.xlsx: south") for heading in HEAD[4:8]]  # fmt: skip
    assert [one.proposal for one in asked] == ["mm", "mm", "", ""]
    assert asked[2].asks.startswith("read as lbf these figures are 1/2.3 of those of the trial")
    is_true(tmp_path / "trial", [*first, *second])


def test_a_doubted_unit_may_be_typed_as_it_is_called():
    question = Question(("layout", 0, "columns", "P1", "unit_of"), "?", ("n", "lbf", "kgf"), other_word=partial(unit_meant, role=ROLES["firmness 1"]))  # fmt: skip
    assert [question.meant(word) for word in ("lb", "kg", "N", "psi")] == ["lbf", "kgf", "n", "psi"]
