"""From the first command to the next week: questions in a file, another shape, corrections, a trial that is there already."""

from __future__ import annotations

import csv
import json
import random
import re
import tomllib
from pathlib import Path

import numpy as np
import pytest
import xlsxwriter

from dashboard import cli
from dashboard.records import read
from dashboard.records.importing.aside import still_waiting
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.together import singly
from dashboard.records.workbooks import read_grids
from tests.records.importing.season import FRUIT, Replies, came_in, held, is_true, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows
from tests.records.small import DECLARED, tables, write_folder


def accept(mapping: Path, answers: dict[str, str]) -> None:
    """What a person does in an editor: takes away the mark where there is an offer, writes an answer where there is none."""
    text = mapping.read_text(encoding="utf-8")
    for name, said in answers.items():
        text = re.sub(rf'({re.escape(name)} = )"\?[^"]*"', rf'\1"{said}"', text)
    text = re.sub(r'"\? ([^"]+)"', r'"\1"', text)
    text = re.sub(r'( names, .* = )"\?"', r'\1"yes"', text)
    mapping.write_text(text, encoding="utf-8")


def test_without_a_terminal_the_questions_go_into_the_file_and_are_answered_there(tmp_path, capsys):
    samples = season(1)
    file = csv_file(tmp_path / "week 27.csv", (*LONG[:6], "P1", "P2", "Brix"), [
        [s.cultivar, s.site, s.day.strftime("%m/%d/%Y"), n, *s.si[n - 1, :2], *s.pounds[n - 1], s.brix[n - 1]]
        for s in samples for n in range(1, FRUIT + 1)
    ])  # fmt: skip
    mapping = tmp_path / "mapping.toml"
    command = ["import", str(file), "--into", str(tmp_path / "trial"), "--answers", str(mapping)]
    assert cli.main(command) == 1
    said = capsys.readouterr().out
    assert "Nothing was read yet" in said
    assert str(mapping) in said
    assert not (tmp_path / "trial" / "samples.csv").exists()
    text = mapping.read_text(encoding="utf-8")
    assert "month/day: 2016-07-05; day/month: 2016-05-07" in text
    assert re.search(r"“[\d.]+” → n: [\d.]+ N; kgf: [\d.]+ N; lbf: [\d.]+ N", text)
    assert tomllib.loads(text)["layout"][0]["columns"]["P1"] == {"is": "? firmness 1", "unit": "?"}
    answers = {"order": "month/day", "unit": "lbf", "tip_mm": "8", "temperature_compensated": "yes"}
    accept(mapping, answers)
    assert cli.main(command) == 0
    told = capsys.readouterr().out.splitlines()
    assert "“4.9 lb” is much for two cheeks" in told[0]  # as the check would say
    assert told[-3].startswith("32 places to look at: orchard-slate check")
    assert told[-1].startswith("0 errors, 2 flags; 459 filled cells: 459 read, 0 set aside")  # fmt: skip
    is_true(tmp_path / "trial", samples)


def test_next_week_the_answers_are_used_again(tmp_path):
    first, second = season(2)[:5], season(2)[5:]
    came_in([csv_file(tmp_path / "1.csv", LONG, long_rows(first))], tmp_path / "trial", {})
    outcome = bring_in([csv_file(tmp_path / "2.csv", LONG, long_rows(second))], tmp_path / "trial")
    assert outcome.code == 0
    assert not outcome.questions
    is_true(tmp_path / "trial", [*first, *second])


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("head", "said"),
    [
        ((*LONG[:8], "SSC"), "“Brix” is gone, “SSC” is new"),
        ((*LONG[:4], LONG[5], LONG[4], *LONG[6:]), "the headings stand in another order"),
        (LONG[:8], "“Brix” is gone"),
    ],
)  # fmt: skip
def test_a_sheet_of_another_shape_is_not_read_by_the_old_answers(tmp_path, head, said):
    samples = season(1)
    came_in([csv_file(tmp_path / "1.csv", LONG, long_rows(samples))], tmp_path / "trial", {})
    before = (tmp_path / "trial" / "fruit.csv").read_bytes()
    rows = [row[: len(head)] for row in long_rows(season(1, 2017))]
    outcome = bring_in([csv_file(tmp_path / "2.csv", head, rows)], tmp_path / "trial")
    assert f"2.csv: another shape than before: {said}; it is asked about anew." in outcome.text
    assert outcome.questions
    assert (tmp_path / "trial" / "fruit.csv").read_bytes() == before
    offers = {question.path[3]: question.offer for question in outcome.questions if question.path[-1] == "is"}
    assert offers["Suture (mm)"] == "suture"  # what was answered before is offered


def test_a_new_name_in_a_known_trial_is_asked_about(tmp_path):
    came_in([csv_file(tmp_path / "1.csv", LONG, long_rows(season(1)))], tmp_path / "trial", {})
    rows = long_rows(season(1, 2017))
    for row in rows[:10]:
        row[0] = "Zorvan"
    for row in rows[10:20]:
        row[0] = "Brintell"
    outcome = bring_in([csv_file(tmp_path / "2.csv", LONG, rows)], tmp_path / "trial")
    assert {(question.path, question.offer) for question in outcome.questions} == {(("cultivars", "Zorvan"), "Zorvan"), (("cultivars", "Brintell"), "")}  # fmt: skip


def test_a_site_is_offered_by_its_name_in_a_longer_text_and_a_new_one_never(tmp_path):
    came_in([csv_file(tmp_path / "1.csv", LONG, long_rows(season(1)))], tmp_path / "trial", {})
    rows = [[{"Low": site}.get(one, one) for one in row] for site in ("Trial - low - week 2", "High") for row in long_rows(season(1, 2017))]  # fmt: skip
    outcome = bring_in([csv_file(tmp_path / "2.csv", LONG, rows)], tmp_path / "trial")
    assert {(question.path, question.offer) for question in outcome.questions} == {(("sites", "Trial - low - week 2"), "Low"), (("sites", "High"), "")}  # fmt: skip


def test_what_was_set_aside_is_corrected_in_its_sheet_and_read_again(tmp_path):
    samples = season(1)
    rows = long_rows(samples)
    good = rows[3][4], rows[14][2]
    rows[3][4], rows[14][2], rows[25][8] = "6,O", "2016-06-31", "9/1"
    file = csv_file(tmp_path / "a.csv", LONG, [[f'"{cell}"' for cell in row] for row in rows])
    outcome, _ = came_in([file], tmp_path / "trial", {})
    assert outcome.counts["aside"] == 1 + 9 + 1
    sheet = tmp_path / "trial" / "importing" / "set_aside.xlsx"
    grid = read_grids(sheet)[0]["set aside"]
    assert [row[2:4] for row in grid[1:3]] == [["C16", "2016-06-31"], ["A16", "Brintel"]]
    instead = {"E5": repr(good[0]), "C16": good[1], "I27": "not used"}
    with xlsxwriter.Workbook(sheet) as book:
        page = book.add_worksheet("set aside")
        for line, row in enumerate(grid):
            page.write_row(line, 0, [str(cell) for cell in [*row[:6], instead.get(row[2], row[6])]])
    again, silent = came_in([file], tmp_path / "trial", {})
    assert not silent.asked
    assert again.code == 0, again.text
    assert again.counts["aside"] == 0
    assert again.counts["unused"] == 1
    is_true(tmp_path / "trial", samples, frozenset({(samples[2].key, 6, 4)}))
    third = bring_in([file], tmp_path / "trial")  # the corrections stay
    assert (third.code, third.counts["aside"]) == (0, 0)


def test_a_correction_that_cannot_be_read_either_waits_again_and_as_many_wait_as_were_set_aside(tmp_path):
    rows = long_rows(season(1))
    good = repr(rows[5][4])
    rows[3][4], rows[5][4] = "x6", "x7"
    file = csv_file(tmp_path / "a.csv", LONG, rows)
    first, _ = came_in([file], tmp_path / "trial", {})
    assert first.counts["aside"] == 2
    assert "2 cells wait in" in first.text
    sheet = tmp_path / "trial" / "importing" / "set_aside.xlsx"
    _written_instead(sheet, {"E5": "sixty", "E7": good})
    again, _ = came_in([file], tmp_path / "trial", {"sixty": "aside"})
    assert again.counts["aside"] == 1
    assert "1 cell waits in" in again.text
    assert still_waiting(sheet) == {"a.csv": 1}
    lines = {row[2]: row for row in read_grids(sheet)[0]["set aside"][1:]}
    assert lines["E5"][3] == "x6"
    assert lines["E5"][4].startswith("“sixty”, written instead, ")
    assert (lines["E5"][6], lines["E7"][6]) == ("", good)


@pytest.mark.alike(3)
@pytest.mark.parametrize("column", [0, 2, 3])
def test_what_a_row_lacks_has_a_line_of_its_own_and_is_filled_in_there(tmp_path, column):
    samples = season(1)
    rows = long_rows(samples)
    was, rows[8][column] = rows[8][column], ""
    file = csv_file(tmp_path / "a.csv", LONG, rows)
    first, _ = came_in([file], tmp_path / "trial", {"empty": "set aside"})
    assert first.counts["aside"] == 8
    assert "8 cells wait in" in first.text
    sheet = tmp_path / "trial" / "importing" / "set_aside.xlsx"
    assert still_waiting(sheet) == {"a.csv": 8}
    cell = f"{'ABCD'[column]}10"
    (line,) = [row for row in read_grids(sheet)[0]["set aside"] if row[2] == cell]
    assert line[3] == ""
    _written_instead(sheet, {cell: str(was)})
    again, _ = came_in([file], tmp_path / "trial", {"empty": "set aside"})
    assert again.counts["aside"] == 0
    is_true(tmp_path / "trial", samples)


def _written_instead(sheet, instead):
    """As somebody fills in the last column, by cell."""
    grid = read_grids(sheet)[0]["set aside"]
    with xlsxwriter.Workbook(sheet) as book:
        page = book.add_worksheet("set aside")
        for line, row in enumerate(grid):
            page.write_row(line, 0, [*row[:6], instead.get(row[2], row[6] if len(row) > 6 else "")])


def test_what_waits_of_last_week_waits_on_when_another_file_comes_in(tmp_path):
    first, second = long_rows(season(2)[:5]), long_rows(season(2)[5:])
    first[3][4] = "x6"
    for name, rows in (("1.csv", first), ("2.csv", second)):
        outcome, _ = came_in([csv_file(tmp_path / name, LONG, rows)], tmp_path / "trial", {})
        assert still_waiting(tmp_path / "trial" / "importing" / "set_aside.xlsx") == {"1.csv": 1}
    assert (outcome.code, outcome.counts["aside"]) == (0, 0)
    assert "1 cell waits in" in outcome.text


def test_a_correction_of_a_cell_that_has_changed_is_told_and_not_used(tmp_path):
    rows = long_rows(season(1))
    rows[3][4] = "x6"
    came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    sheet = tmp_path / "trial" / "importing" / "set_aside.xlsx"
    grid = read_grids(sheet)[0]["set aside"]
    with xlsxwriter.Workbook(sheet) as book:
        page = book.add_worksheet("set aside")
        page.write_row(0, 0, grid[0])
        page.write_row(1, 0, [*grid[1][:6], "60"])
    rows[3][4] = "x7"
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", {})
    assert "holds something else now" in outcome.text
    assert outcome.counts["aside"] == 1


def test_a_trial_in_other_units_and_on_another_scale_keeps_its_own(tmp_path):
    grids = tables()
    grids["fruit"][0] = [
        "sample",
        "fruit",
        "suture_in",
        "cross_in",
        "firmness_1_lbf",
        "firmness_2_lbf",
        "ssc_brix",
    ]
    for cells in grids["fruit"][1:]:
        cells[2:] = ["2.5", "2.5", "9", "8.5", "12"]
    grids["samples"] = [["colour card", *cells] for cells in grids["samples"]]
    for cells in grids["samples"][1:]:
        cells[6], cells[7] = "2", "4"
    declared = DECLARED | {
        "ratings": {"red": {"low": 1, "high": 5, "best": 1}, "shape": {"low": 1, "high": 5, "best": 1}},
        "not_used": ["samples: colour card"], "seasons": [2016, 2024],
    }  # fmt: skip
    trial = write_folder(tmp_path / "trial", grids, declared)
    before = read(trial)
    samples = season(1, sites=("low",))
    head = (*LONG, "Red")
    rows = [[*row, samples[at // FRUIT].ratings["red"]] for at, row in enumerate(long_rows(samples))]
    names = {name: name for name in ("Corvale", "Dusk Marrow")}
    outcome, replies = came_in(
        [csv_file(tmp_path / "a.csv", head, rows)], trial, {"scale": "0 to 10, 10 best"} | names
    )
    assert "tip_mm" not in replies.kinds
    assert outcome.code == 0
    after = read(trial)
    assert not [problem for problem in after.problems if problem.severity == "error"]
    assert after.declaration == before.declaration
    for name in ("samples", "fruit", "cultivars"):
        ours = after.tables[name].iloc[: len(before.tables[name])]
        assert ours.equals(before.tables[name].astype(ours.dtypes.to_dict())), name
    new = after.tables["samples"].iloc[4:]
    np.testing.assert_allclose(new["red"], [sample.ratings["red"] for sample in samples])
    there = held(trial)
    for sample in samples:
        np.testing.assert_allclose(
            np.array([there[sample.key][n] for n in range(1, 11)]), sample.si, rtol=1e-9
        )
    assert json.loads((trial / "datapackage.json").read_text())["orchard_slate"] == declared


def test_days_outside_the_seasons_of_the_trial_are_set_aside(tmp_path):
    trial = write_folder(tmp_path / "trial", tables())
    samples = [*season(1, 2024)[:1], *season(1)[1:2]]
    for sample in samples:
        sample.site = "low"
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", LONG, long_rows(samples))], trial, {})
    assert "is outside the years of this trial (2023-01-01 to 2024-12-31)" in outcome.text
    assert outcome.counts["aside"] == 90
    assert len(read(trial).tables["samples"]) == 5


@pytest.mark.parametrize(
    ("way", "answers", "asked"),
    [
        ("%Y-%m-%d", {}, []),
        ("%Y-W%V", {}, []),
        ("%m/%d", {"order": "month/day", "year": "2016"}, [*["is"] * 6, "order", "year"]),
    ],
)
def test_a_file_of_another_year_is_refused_before_names_and_units_are_asked(tmp_path, way, answers, asked):
    trial = write_folder(tmp_path / "trial", tables())
    file = csv_file(tmp_path / "a.csv", LONG, long_rows(season(1), lambda day: day.strftime(way)))
    replies = Replies(answers)
    outcome = bring_in([file], trial, ask=singly(replies))
    assert [question.path[-1] for question in replies.asked] == asked
    assert (outcome.code, outcome.counts) == (1, {})
    assert "a.csv: no day in it is of this trial: 2016-" in outcome.text
    package = trial / "datapackage.json"
    assert (
        f'Is 2016 new to this trial? In {package}, write "seasons": [2016, 2024] in place of [2023, 2024]'
        in outcome.text
    )
    assert not (trial / "importing").exists()  # a year that was mistyped is asked for again


def test_months_of_another_language_are_asked_about_once_and_kept(tmp_path):
    first, second = season(2)[:5], season(2)[5:]
    files = [
        csv_file(
            tmp_path / f"{number}.csv", (*LONG[:2], head, *LONG[3:]),
            long_rows(part, lambda day: f"{day.day} juil. {day.year}"),
        )
        for number, (part, head) in enumerate(((first, "Date"), (second, "Picked")))
    ]  # fmt: skip
    outcome, replies = came_in(files, tmp_path / "trial", {("months", "juil"): "July"})
    assert [question.path for question in replies.asked if question.path[0] == "months"] == [("months", "juil")]  # fmt: skip
    assert outcome.code == 0
    is_true(tmp_path / "trial", [*first, *second])
    assert not bring_in(files, tmp_path / "trial").questions


def test_readings_of_another_tip_are_set_aside(tmp_path):
    outcome, _ = came_in(
        [csv_file(tmp_path / "a.csv", LONG, long_rows(season(1)))], tmp_path / "trial", {"tip_mm": "11"}
    )
    assert "was read with a 11 mm tip" in outcome.text
    assert outcome.counts["aside"] == 100


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda trial: (trial / "samples.csv").write_text("sample,cultivar\nS1,A\n"), "is not a trial that can be read"),
        (lambda trial: (trial / "fruit.csv").write_text((trial / "fruit.csv").read_text() + 'S9,1,60,60,4,4,11\n'), "rows of it are set aside"),
        (lambda trial: (trial / "fruit.csv").write_text((trial / "fruit.csv").read_text() + '"S1,7,60\n'), "rows of it are set aside"),
    ],
    ids=["no trial", "an orphan", "a torn row"],
)  # fmt: skip
def test_nothing_comes_into_a_trial_that_has_to_be_put_right_first(tmp_path, spoil, said):
    trial = write_folder(tmp_path / "trial", tables())
    spoil(trial)
    outcome = bring_in([csv_file(tmp_path / "a.csv", LONG, long_rows(season(1)))], trial)
    assert outcome.code == 1
    assert said in outcome.text
    assert not outcome.counts


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("a.pdf", b"%PDF", "ends in .pdf, and such files are not read"),
        ("a.xlsx", b"nothing", "is not a workbook"),
        ("a.csv", b"%PDF-1.4", "is a PDF"),
        ("a.csv", b" \n \n", "the file is empty"),
        ("a.csv", b"\xff\xfeA", "the text is damaged"),
        ("a.csv", random.Random(1).randbytes(3000), "open it in the program that made it"),
        ("a.csv", b"A;B\0;C\n", "the file is not text"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_read_is_told_and_the_others_come_in(tmp_path, name, content, said):
    (tmp_path / name).write_bytes(content)
    samples = season(1)
    outcome, _ = came_in(
        [tmp_path / name, csv_file(tmp_path / "good.csv", LONG, long_rows(samples))], tmp_path / "trial", {}
    )
    assert said in outcome.text
    assert outcome.code == 1
    is_true(tmp_path / "trial", samples)


@pytest.mark.parametrize("into", ["trial.xlsx", "a file"])
def test_sheets_come_into_a_folder_only(tmp_path, into):
    (tmp_path / into).write_text("x")
    outcome = bring_in([csv_file(tmp_path / "a.csv", LONG, long_rows(season(1)))], tmp_path / into)
    assert (outcome.code, "name a folder" in outcome.text) == (1, True)


@pytest.mark.parametrize(
    "text", ["layout = 3", "format = 1\n[[layout]]\n", 'format = 1\nother = "x"', "not toml ["]
)
def test_a_mapping_that_is_none_is_refused_in_a_sentence(tmp_path, text):
    (tmp_path / "mapping.toml").write_text(text)
    file = csv_file(tmp_path / "a.csv", LONG, long_rows(season(1)))
    outcome = bring_in([file], tmp_path / "trial", tmp_path / "mapping.toml")
    assert outcome.code == 1
    assert "mapping.toml" in outcome.text
    assert (tmp_path / "mapping.toml").read_text() == text


def test_two_files_of_one_name_are_told_apart_first(tmp_path):
    (tmp_path / "b").mkdir()
    files = [csv_file(place / "a.csv", LONG, long_rows(season(1))) for place in (tmp_path, tmp_path / "b")]
    outcome = bring_in(files, tmp_path / "trial")
    assert (outcome.code, outcome.text.count("two files have this name")) == (1, 1)


def test_where_no_headings_are_found_the_row_is_asked_for(tmp_path):
    samples = season(1)
    rows = [["Sorte", "Ort", "Tag", "Nr", "Naht", "Quer", "D1", "D2", "Zucker"], *long_rows(samples)]
    file = csv_file(tmp_path / "a.csv", ["Versuch"], [["2016"], [], *rows])
    roles = ("cultivar", "site", "date", "fruit number", "suture", "cross", "firmness 1", "firmness 2", "ssc")
    answers: dict[object, str] = {(heading, "is"): role for heading, role in zip(rows[0], roles, strict=True)}
    units = {("Naht", "unit"): "mm", ("Quer", "unit"): "mm", ("D1", "unit"): "n", ("D2", "unit"): "n"}
    titles = {("A, 3 above", "is"): "not used", ("A, 2 above", "is"): "not used"}
    outcome, _ = came_in([file], tmp_path / "trial", answers | units | titles)
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)


def test_a_page_without_headings_that_are_known_is_asked_about(tmp_path):
    file = csv_file(
        tmp_path / "a.csv", ["Versuch 2016"], [["Sorte", "Zucker"], ["Alvane", "11.5"], ["Brintel", "12"]]
    )
    other = csv_file(tmp_path / "letter.txt", ["Dear all"], [["the fruit was good"]])
    answers: dict[object, str] = {
        "a.csv": "2", "letter.txt": "not used", ("Sorte", "is"): "cultivar", ("Zucker", "is"): "red", "scale": "0 to 20, 20 best",
        "site": "Low", "date": "2016-07-05", ("A, 1 above", "is"): "not used",
    }  # fmt: skip
    outcome, replies = came_in([file, other], tmp_path / "trial", answers)
    asked = [question for question in replies.asked if question.path[0] == "headings_in_row"]
    assert [question.shown[0] for question in asked] == ["  row 1: “Versuch 2016”", "  row 1: “Dear all”"]
    assert outcome.code == 0
    assert outcome.counts["unused"] == 3
    assert read(tmp_path / "trial").tables["samples"]["red"].tolist() == [5.75, 6]


def test_this_week_s_gauge_in_another_unit_than_last_week_s_is_asked_about_and_flagged(tmp_path):
    """The answer of last week holds, and the figures speak against it: it is asked, and what was answered stands."""
    first, second = season(2)[:5], season(2)[5:]
    came_in([csv_file(tmp_path / "1.csv", LONG, long_rows(first))], tmp_path / "trial", {})
    rows = [[*row[:6], row[6] / 4.448, row[7] / 4.448, row[8]] for row in long_rows(second)]
    file = csv_file(tmp_path / "2.csv", LONG, rows)
    asked = bring_in([file], tmp_path / "trial").questions
    assert [one.path[-3:] for one in asked] == [(f"Firmness {cheek} (N)", "unit_of", "2.csv") for cheek in (1, 2)]  # fmt: skip
    outcome, _ = came_in([file], tmp_path / "trial", {"2.csv": "n"})
    flags = [problem for problem in outcome.problems if "another unit" in problem.suggestion]
    assert [(problem.file, problem.row, problem.column) for problem in flags] == [
        ("2.csv", 2, "G"),
        ("2.csv", 2, "H"),
    ]
    assert "1/4" in flags[0].rule


def test_fruit_without_numbers_that_stand_twice_count_once(tmp_path):
    samples = season(1)
    head = (*LONG[:3], *LONG[4:])
    rows = [[*row[:3], *row[4:]] for row in long_rows(samples)]
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", head, [*rows, *rows[10:20]])], tmp_path / "trial", {})
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)


@pytest.mark.parametrize(
    ("key", "wrong"), [("scale", "0 bis 10"), ("unit", "feet"), ("order", "American"), ("zero", "perhaps"), ("is", "diameter"), ("tip_mm", "large")]
)  # fmt: skip
def test_an_answer_that_is_none_stays_a_question(tmp_path, key, wrong):
    head = (*LONG[:6], "P1", "P2", "Brix", "Red")
    rows = [[*row[:2], f"7/{5 + row[3] % 2}/2016", *row[3:], 0] for row in long_rows(season(1))]
    file = csv_file(tmp_path / "a.csv", head, rows)
    mapping = tmp_path / "mapping.toml"
    bring_in([file], tmp_path / "trial", mapping)
    right = {
        "scale": "0 to 10, 10 best",
        "unit": "n",
        "order": "month/day",
        "zero": "a reading",
        "tip_mm": "8",
        "temperature_compensated": "yes",
    }
    accept(mapping, right | {key: wrong})
    if key == "is":
        mapping.write_text(
            mapping.read_text(encoding="utf-8").replace('is = "suture"', f'is = "{wrong}"'), encoding="utf-8"
        )
    outcome = bring_in([file], tmp_path / "trial", mapping)
    assert outcome.questions
    assert all(question.path[-1] == key for question in outcome.questions)
    assert not (tmp_path / "trial").exists()


@pytest.mark.parametrize("heading", ["Juice temp (F)", "Brix temp"])
def test_a_new_trial_is_asked_how_zero_was_set_and_takes_the_juice_s_temperature(tmp_path, heading):
    samples = season(1)[:2]
    rows = [[*row, "77"] for row in long_rows(samples)]
    file = csv_file(tmp_path / "week.csv", (*LONG, heading), rows)
    answers = {"temperature_compensated": "no", "refractometer_zero": "at 20 C", "unit": "f"}
    _, replies = came_in([file], tmp_path / "trial", answers)
    (asked,) = [one for one in replies.asked if one.path[-1] == "refractometer_zero"]
    assert asked.shown == ("  12 °Brix read at 30 °C → at 20 C: 12.77; water of the day: 12.05; not known: 12.00",)  # fmt: skip
    records = read(tmp_path / "trial")
    assert records.declaration.refractometer_zero == "at 20 C"
    np.testing.assert_allclose(records.tables["samples"]["juice_temp_c"], 25)
    raw = np.array(list(csv.DictReader((tmp_path / "trial" / "fruit.csv").open())))
    before = np.array([float(row["ssc_brix"]) for row in raw])
    assert ((records.tables["fruit"]["ssc_brix"] - before).between(0.33, 0.39)).all()


def test_a_site_that_is_called_by_its_whole_name_is_no_second_site(tmp_path):
    first, second = season(2)[:5], season(2)[5:]
    came_in([csv_file(tmp_path / "1.csv", LONG, long_rows(first))], tmp_path / "trial", {})
    sites = tmp_path / "trial" / "sites.csv"
    keys = sites.read_text(encoding="utf-8-sig").split()[1:]
    sites.write_text("site,name\n" + "".join(f"{key},The {key} Block\n" for key in keys), encoding="utf-8")
    spelled = [
        [f"the {one.lower()} block" if one in keys else one for one in row] for row in long_rows(second)
    ]
    assert any(str(one).startswith("the ") for row in spelled for one in row)
    came_in([csv_file(tmp_path / "2.csv", LONG, spelled)], tmp_path / "trial", {})
    assert list(read(tmp_path / "trial").tables["sites"]["site"]) == keys
    is_true(tmp_path / "trial", [*first, *second])
