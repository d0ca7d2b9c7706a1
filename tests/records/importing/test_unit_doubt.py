"""A sheet that stands as far from the others as another unit would put it is asked about by itself; nothing is asked where figures agree."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import xlsxwriter

from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.mapping import Question
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
    """The sheets of the south are in mm and kg."""

    def __call__(self, question: Question) -> str:
        if question.path[-2] != "unit_of":
            return super().__call__(question)
        self.asked.append(question)
        return "mm" if "mm" in question.options else "kgf"


def brought(path: Path, trial: Path) -> list[Question]:
    replies = ByQuantity({"tip_mm": "8", "temperature_compensated": "yes"})
    for heading in ("Suture", "Cross", "Press 1", "Press 2"):
        replies.answers[heading, "unit"] = "in" if heading in ("Suture", "Cross") else "lbf"
    outcome = bring_in([path], trial, ask=singly(replies))
    adds_up(outcome)
    assert outcome.counts["aside"] == 0
    return [one for one in replies.asked if one.path[-2] == "unit_of"]


def test_the_sheet_in_another_unit_is_asked_about_by_itself(tmp_path):
    ours, theirs = (25.4, N_PER_LBF), (1.0, N_PER_KGF)
    first, second, third = (moved(season(1, seed=seed), seed) for seed in (1, 2, 3))
    book(tmp_path / "a.xlsx", {"north": (first, *ours), "south": (second, *theirs), "west": (third, *ours)})
    asked = brought(tmp_path / "a.xlsx", tmp_path / "trial")
    assert [one.path[-3:] for one in asked] == [(heading, "unit_of", "a.xlsx: south") for heading in HEAD[4:8]]  # fmt: skip
    assert asked[0].asks.startswith("read as in these figures are 2")  # some 25 times
    is_true(tmp_path / "trial", [*first, *second, *third])
