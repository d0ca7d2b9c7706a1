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


def two_files(folder) -> list:
    rows = long_rows(season(1))
    first = csv_file(folder / "a.csv", LONG, rows)
    rows = [list(row) for row in rows]
    rows[3][8], rows[27][8] = 19.5, 18.5
    return [first, csv_file(folder / "b.csv", LONG, rows)]


def brix(trial) -> list[float]:
    return read(trial).tables["fruit"]["ssc_brix"].tolist()


@pytest.mark.parametrize(("said", "ours"), [(KEEP, 0), (RIGHT, 2), (SINGLY, 1)])
def test_it_is_asked_which_is_right(tmp_path, said, ours):
    class Said(Replies):
        def __call__(self, question):
            if question.path[0] != DIFFERING:
                return super().__call__(question)
            self.asked.append(question)
            return said if SINGLY in question.options else RIGHT if "19.5" in question.asks else KEEP

    replies = Said({"tip_mm": "8", "temperature_compensated": "yes"})
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
    replies = Replies({"tip_mm": "8", "temperature_compensated": "yes"})
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
