"""What may go wrong, and takes nothing with it: a fault within, a mistyped name, an answer put off, a note at the foot of a sheet."""

from __future__ import annotations

import pytest

from dashboard import cli
from dashboard.records import read
from dashboard.records.importing import incoming
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.mapping import Question, read_answers
from dashboard.records.importing.together import singly
from tests.records.importing.season import Replies, adds_up, came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

SIDE = ("Variety", "Site", "Date", "Reading", 1, 2, 3)
ROWS = [
    ["Alvane", "Low", "2016-07-05", "Suture", 61, 62, 63],
    ["", "", "", "Cross", 60, 61, 64],
    ["Brintel", "Low", "2016-07-05", "Suture", 51, 52, 53],
]
GO_ON = {"empty": "as above", "unit": "mm", "rows_without_readings": "nothing was picked"}


def test_whatever_goes_wrong_within_ends_in_a_sentence_and_nothing_is_written(tmp_path, monkeypatch, capsys):
    file = csv_file(tmp_path / "a.csv", LONG, long_rows(season(1)))

    def broken(*_):
        raise TypeError

    monkeypatch.setattr(incoming, "joined", broken)
    outcome = bring_in([file], tmp_path / "trial", ask=singly(Replies({"tip_mm": "8", "temperature_compensated": "yes"})))  # fmt: skip
    assert outcome.code == 1
    assert outcome.text.startswith(
        "The import met a fault of its own (TypeError in test_nothing_lost.py, line"
    )
    assert len(outcome.text.splitlines()) == 1
    assert [path.name for path in (tmp_path / "trial").iterdir()] == ["importing"]
    monkeypatch.undo()
    again, replies = came_in([file], tmp_path / "trial", {})
    assert (again.code, replies.asked) == (0, [])  # no answer was lost


def test_a_mistyped_name_leaves_no_trial_behind(tmp_path, capsys):
    assert cli.main(["import", str(tmp_path / "wek 27.csv"), "--into", str(tmp_path / "trial")]) == 1
    said = capsys.readouterr().out
    assert "wek 27.csv: the file cannot be opened" in said
    assert "Nothing was read, and nothing was written." in said
    assert not (tmp_path / "trial").exists()
    file = csv_file(tmp_path / "week 27.csv", LONG, long_rows(season(1)))
    assert came_in([file], tmp_path / "trial", {})[0].code == 0


def test_sheets_of_which_nothing_can_be_read_make_no_trial(tmp_path):
    rows = [[*row[:2], "2016-06-31", *row[3:]] for row in long_rows(season(1))[:5]]
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    assert outcome.counts["read"] == 9
    assert not (tmp_path / "trial" / "samples.csv").exists()
    file = csv_file(tmp_path / "b.csv", LONG, long_rows(season(1)))
    assert came_in([file], tmp_path / "trial", {})[0].counts["aside"] == 0


def test_what_was_answered_before_later_is_kept(tmp_path):
    file = csv_file(tmp_path / "a.csv", (*LONG[:6], "P1", "P2", "Brix"), long_rows(season(1)))
    asked: list[Question] = []

    def first_two(question: Question) -> str | None:
        asked.append(question)
        return question.offer or "n" if len(asked) < 3 else None

    outcome = bring_in([file], tmp_path / "trial", ask=singly(first_two))
    kept = read_answers(tmp_path / "trial" / "importing" / "mapping.toml")
    assert [kept.at(one.path) for one in asked] == [*(one.offer or "n" for one in asked[:2]), None]
    assert asked[2].path in [one.path for one in outcome.questions]
    assert not {one.path for one in asked[:2]} & {one.path for one in outcome.questions}
    more = Replies({"unit": "n", "tip_mm": "8", "temperature_compensated": "yes"})
    assert bring_in([file], tmp_path / "trial", ask=singly(more)).code == 0
    assert not {one.path for one in asked[:2]} & {one.path for one in more.asked}


def test_a_note_at_the_foot_is_no_cultivar_and_what_stands_beside_it_is_not_lost(tmp_path):
    foot = ["Looked at but not ripe:", "", "", "", "Corvale and Zorvan", "", ""]
    file = csv_file(tmp_path / "a.csv", SIDE, [*ROWS, foot])
    outcome, replies = came_in([file], tmp_path / "picked", GO_ON)
    asked = next(one for one in replies.asked if one.path[-1] == "rows_without_readings")
    assert asked.shown == ("  “Looked at but not ripe:; Corvale and Zorvan”",)
    assert outcome.counts["unused"] == 2
    assert sorted(read(tmp_path / "picked").tables["cultivars"]["cultivar"]) == ["Alvane", "Brintel"]
    outcome, _ = came_in([file], tmp_path / "aside", GO_ON | {"rows_without_readings": "set aside"})
    assert {one.value for one in outcome.problems} == {"Looked at but not ripe:"}
    assert (outcome.counts["unused"], outcome.counts["aside"]) == (0, 2)
    assert len(read(tmp_path / "aside").tables["samples"]) == 2


def test_rows_are_asked_about_once_it_is_known_what_holds_a_reading(tmp_path):
    """Before that every row seems to hold none, and the answer that stands ready would be kept."""
    file = csv_file(tmp_path / "a.csv", ("Selection", "Harvested", "Dia. seam", "Press. L"), [["Alvane", "2024-07-01", "57.4", "5.4"]])  # fmt: skip
    asked = {one.path[-1] for one in bring_in([file], tmp_path / "trial").questions}
    assert "is" in asked
    assert "rows_without_readings" not in asked


def test_figures_of_a_row_that_names_no_reading_are_told(tmp_path):
    """They were counted as declared, and nobody had declared them."""
    file = csv_file(tmp_path / "a.csv", SIDE, [*ROWS, ["", "", "", "", 11, 12, 13]])
    outcome, _ = came_in([file], tmp_path / "trial", GO_ON)
    assert {one.rule for one in outcome.problems} == {"is in a row that does not say which reading it holds"}
    assert (outcome.counts["unused"], outcome.counts["aside"]) == (0, 3)


def test_a_list_of_classes_needs_no_day_and_no_site(tmp_path):
    list_ = csv_file(tmp_path / "codes.csv", ("Name", "Type", "Flesh"), [["Alvane", "P", "Y"], ["Brintel", "N", "W"], ["Corvale", "P", ""]])  # fmt: skip
    words = {"P": "peach", "N": "nectarine", "Y": "yellow", "W": "white"}
    outcome, replies = came_in([list_], tmp_path / "trial", words)
    assert not {"site", "date", "rows_without_readings"} & replies.kinds
    assert (outcome.counts["read"], outcome.counts["filled"]) == (11, 11)
    assert not (tmp_path / "trial" / "fruit.csv").exists() or not len(
        read(tmp_path / "trial").tables["samples"]
    )
    file = csv_file(tmp_path / "a.csv", LONG, long_rows(season(1)))
    came_in([file], tmp_path / "trial", {})
    known = read(tmp_path / "trial").tables["cultivars"].set_index("cultivar")
    assert known.loc["Brintel", "fruit_type"] == "nectarine"
    assert known.loc["Alvane", "flesh_colour"] == "yellow"


@pytest.mark.alike(3)
@pytest.mark.parametrize("said", ["yes", "one by one", "Zorvan"])
def test_every_new_name_of_a_new_trial_is_confirmed(tmp_path, said):
    rows = long_rows(season(1))
    rows[:10] = [["Zorvan", *row[1:]] for row in rows[:10]]
    file = csv_file(tmp_path / "a.csv", LONG, rows)
    asked: list[Question] = []

    def answer(question: Question) -> str:
        asked.append(question)
        if question.path[0] != "new_cultivars":
            return "Alvane" if question.path == ("cultivars", "Zorvan") else question.offer or {"tip_mm": "8"}.get(str(question.path[-1]), "yes")  # fmt: skip
        return said if len([one for one in asked if one.path[0] == "new_cultivars"]) == 1 else "yes"

    outcome = bring_in([file], tmp_path / "trial", ask=singly(answer))
    adds_up(outcome)
    whole = next(one for one in asked if one.path[0] == "new_cultivars")
    assert whole.shown == ("  Brintel; Corvale; Dusk Marrow; T 12-034; Zorvan",)
    alone = [one.path[1] for one in asked if one.path[0] == "cultivars"]
    assert alone == {"yes": [], "Zorvan": ["Zorvan"]}.get(said, ["Zorvan", "Brintel", "Corvale", "T 12-034", "Dusk Marrow", "Alvane"])  # fmt: skip
    names = set(read(tmp_path / "trial").tables["cultivars"]["cultivar"])
    assert names == {"Brintel", "Corvale", "Dusk Marrow", "T 12-034"} | {
        "Zorvan" if said == "yes" else "Alvane"
    }
