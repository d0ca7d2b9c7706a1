"""A corrected file beside the first in one command: which of the two is right is asked as it is of the trial, and never decided by itself."""

from __future__ import annotations

import pytest

from dashboard.records import read
from dashboard.records.importing.changed import changes_in
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.mapping import DIFFERING
from dashboard.records.importing.right import KEEP, RIGHT, SINGLY
from dashboard.records.importing.together import singly
from tests.records.importing.season import Replies, adds_up, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

INSTRUMENTS: dict[object, str] = {"tip_mm": "8", "temperature_compensated": "yes"}


class TheFileIsRight(Replies):
    def __call__(self, question):
        return RIGHT if question.path[0] == DIFFERING else super().__call__(question)


def two_files(folder) -> list:
    rows = long_rows(season(1))
    first = csv_file(folder / "a.csv", LONG, rows)
    rows = [list(row) for row in rows]
    rows[3][8], rows[27][8] = 19.5, 18.5
    return [first, csv_file(folder / "b.csv", LONG, rows)]


def brix(trial) -> list[float]:
    return read(trial).tables["fruit"]["ssc_brix"].tolist()


@pytest.mark.alike(3)
@pytest.mark.parametrize(("said", "ours"), [(KEEP, 0), (RIGHT, 2), (SINGLY, 1)])
def test_it_is_asked_which_is_right(tmp_path, said, ours):
    class Said(Replies):
        def __call__(self, question):
            if question.path[0] != DIFFERING:
                return super().__call__(question)
            self.asked.append(question)
            return said if SINGLY in question.options else RIGHT if "19.5" in question.asks else KEEP

    replies = Said(INSTRUMENTS)
    outcome = bring_in(two_files(tmp_path), tmp_path / "trial", ask=singly(replies))
    adds_up(outcome)
    asked = next(one for one in replies.asked if one.path[0] == DIFFERING)
    assert asked.asks == "it says another value than another file in 2 places; which is right?"
    assert "fruit 4, ssc_brix: " in asked.shown[0]
    assert "is in a.csv, I5, the file has “19.5” (I5)" in asked.shown[0]
    assert sum(value in (19.5, 18.5) for value in brix(tmp_path / "trial")) == ours
    assert len(outcome.differing) == 2 - ours == outcome.counts["aside"]
    assert not changes_in(tmp_path / "trial")  # nothing stood before


def test_without_a_terminal_it_waits_as_a_question_and_the_first_is_kept_until_then(tmp_path):
    files = two_files(tmp_path)
    replies = Replies(INSTRUMENTS)
    bring_in(files[:1], tmp_path / "asked", ask=singly(replies))  # what is asked of the sheet itself
    mapping = (tmp_path / "asked" / "importing" / "mapping.toml").read_text(encoding="utf-8")
    place = tmp_path / "mapping.toml"
    place.write_text(mapping, encoding="utf-8")
    outcome = bring_in(files, tmp_path / "trial", place)
    assert len(outcome.differing) == 2
    assert not any(value in (19.5, 18.5) for value in brix(tmp_path / "trial"))
    text = place.read_text(encoding="utf-8")
    assert f'"? {KEEP}"' in text
    place.write_text(text.replace(f'"? {KEEP}"', f'"{RIGHT}"'), encoding="utf-8")
    bring_in(files, tmp_path / "trial", place)
    assert sum(value in (19.5, 18.5) for value in brix(tmp_path / "trial")) == 2


def test_what_was_said_to_be_wrong_is_not_asked_again_and_takes_nothing_back(tmp_path):
    files, trial = two_files(tmp_path), tmp_path / "trial"
    bring_in(files, trial, ask=singly(TheFileIsRight(INSTRUMENTS)))
    there = brix(trial)
    before = {file.name: file.read_bytes() for file in trial.rglob("*.*") if file.suffix != ".xlsx"}
    for some in (files, files[:1], files[::-1]):
        again = bring_in(some, trial)
        adds_up(again)
        assert (again.code, again.counts["aside"], again.questions) == (0, 0, [])
        assert "a.csv: 2 values were corrected before, so what stands is kept." in again.text
        assert brix(trial) == there
    assert {file.name: file.read_bytes() for file in trial.rglob("*.*") if file.suffix != ".xlsx"} == before


def test_a_third_value_is_asked_about_and_so_is_the_first_once_it_stands_again(tmp_path):
    files, trial = two_files(tmp_path), tmp_path / "trial"
    replies = TheFileIsRight(INSTRUMENTS)
    bring_in(files[:1], trial, ask=singly(replies))
    bring_in(files[1:], trial, ask=singly(replies))  # replaces what stood
    assert len(changes_in(trial)) == 2
    rows = long_rows(season(1))
    rows[3][8] = 20.5
    third = bring_in([csv_file(tmp_path / "c.csv", LONG, rows)], trial)
    assert [one.new for one in third.differing] == ["20.5"]
    assert "c.csv: 1 value was corrected before" in third.text
