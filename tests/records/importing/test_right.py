"""A corrected sheet: what differs from the trial is shown old beside new, and replaced only where somebody said that the sheet is right."""

from __future__ import annotations

import csv
from itertools import pairwise
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records import read
from dashboard.records.importing.as_written import Written
from dashboard.records.importing.changed import LOG, Change, changes_in, with_changes
from dashboard.records.importing.differs import Differs
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Question
from dashboard.records.importing.pages import Page
from dashboard.records.importing.right import (
    EVERYWHERE,
    KEEP,
    RIGHT,
    SINGLY,
    chosen,
    forget,
    newest,
    open_of,
    right,
    shown,
    whole,
)
from dashboard.records.importing.standing import Standing
from dashboard.records.importing.together import singly
from dashboard.records.importing.trial import Trial, opened_trial
from dashboard.records.workbooks import read_grids
from tests.records.importing.season import adds_up
from tests.records.small import tables, write_folder, write_workbook

FRUIT = tables()["fruit"]
FORMULA, MARKUP = "=HYPERLINK(1)", "<img src=x onerror=alert(1)>"


@pytest.fixture(autouse=True)
def _nothing_odd_is_looked_for(monkeypatch):
    """It is most of the time that reading a trial takes, and what it finds is of other tests."""
    monkeypatch.setattr("dashboard.records.reading.suspect", lambda *_: None)


def folder(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "trial", tables())


def sheet(path: Path, changes: dict[tuple[int, int], str], table: str = "fruit") -> Path:
    """A table of the trial as somebody keeps it, with cells changed: by row and column, the headings being row 0."""
    rows = [list(row) for row in tables()[table]]
    for (row, column), text in changes.items():
        rows[row][column] = text
    path.parent.mkdir(exist_ok=True)
    with path.open("w", newline="") as file:
        csv.writer(file).writerows(rows)
    return path


def values(trial: Path) -> list[list[str]]:
    with (trial / "fruit.csv").open(newline="") as file:
        return list(csv.reader(file))


def mapping(trial: Path) -> str:
    place = trial / "importing" / "mapping.toml"
    return place.read_text(encoding="utf-8") if place.exists() else ""


def say(trial: Path, answer: str, of: str = "") -> None:
    """Write the answer where the questions stand, behind the name that holds ``of``."""
    lines = [line.replace(f"? {KEEP}", answer) if of in line else line for line in mapping(trial).split("\n")]
    (trial / "importing" / "mapping.toml").write_text("\n".join(lines), encoding="utf-8")


def differ(count: int = 3, file: str = "week.xlsx", old: str = "61.5") -> list[Differs]:
    return [Differs(at, file, "bench", f"G{at}", "fruit", ("S1", str(at)), "suture_mm", old, f"{62 + at}", f"{62 + at}") for at in range(1, count + 1)]  # fmt: skip


def test_nothing_is_replaced_by_itself_then_as_a_whole_and_twice_changes_nothing(tmp_path):
    trial = folder(tmp_path)
    before = (trial / "fruit.csv").read_bytes()
    file = sheet(tmp_path / "in" / "fruit.csv", {(1, 2): "62.5", (4, 6): "13.2"})
    outcome = bring_in([file], trial)
    adds_up(outcome)
    assert (trial / "fruit.csv").read_bytes() == before
    assert "fruit.csv: 2 values differ from what stands already; what stands is kept." in outcome.text
    assert "S1, fruit 1, suture_mm: “61.5” stands, the file has “62.5” (C2)" in outcome.text
    assert outcome.counts["aside"] == 2
    assert mapping(trial).count(f'" = "? {KEEP}"') == 1
    assert not (trial / LOG).exists()
    say(trial, RIGHT)
    outcome = bring_in([file], trial, who="Ann")
    adds_up(outcome)
    assert (outcome.code, outcome.counts["aside"]) == (0, 0)
    assert "changed  fruit.csv, S1, fruit 1, suture_mm: “61.5” became “62.5”" in outcome.text
    stands = values(trial)
    assert (stands[1][2], stands[4][6]) == ("62.5", "13.2")
    assert [row for at, row in enumerate(stands) if at not in (1, 4)] == [row for at, row in enumerate(FRUIT) if at not in (1, 4)]  # fmt: skip
    assert [(one.who, one.table, one.key, one.column, one.old, one.new) for one in changes_in(trial)] == [
        ("Ann", "fruit", "S1; 1", "suture_mm", "61.5", "62.5"), ("Ann", "fruit", "S2; 1", "ssc_brix", "12.3", "13.2")
    ]  # fmt: skip
    assert f'"{RIGHT}"' not in mapping(trial)  # an answer that was followed is forgotten
    log = (trial / LOG).read_bytes()
    assert bring_in([file], trial).code == 0
    assert (trial / LOG).read_bytes() == log
    write_folder(trial, tables())  # somebody puts the old values back: the same file asks again
    assert len(bring_in([file], trial).differing) == 2
    assert values(trial) == FRUIT


def test_replace_beside_a_cell_that_was_set_aside(tmp_path):
    trial = folder(tmp_path)
    file = sheet(tmp_path / "in" / "fruit.csv", {(1, 2): "62.5", (4, 6): "13.2"})
    bring_in([file], trial)
    place = trial / "importing" / "set_aside.xlsx"
    head, *rows = read_grids(place)[0]["set aside"]
    beside = [head, *([*row[:6], "Replace" if row[2] == "C2" else ""] for row in rows)]
    write_workbook(place, {"set aside": beside}, None)
    assert bring_in([file], trial).counts["aside"] == 1
    assert values(trial)[1][2] == "62.5"
    assert [row[2] for row in read_grids(place)[0]["set aside"][1:]] == ["G5"]
    # It was said of 61.5 and 62.5: where something else stands, it is nothing.
    write_workbook(place, {"set aside": beside}, None)
    now = tables()["fruit"]
    now[1][2] = "60.5"
    write_folder(trial, {"fruit": now}, None)
    assert bring_in([file], trial).counts["aside"] == 2
    assert values(trial)[1][2] == "60.5"
    assert "“60.5”" in {row[2]: row[4] for row in read_grids(place)[0]["set aside"]}["C2"]


def test_names_days_picks_and_classes_stay(tmp_path):
    trial = folder(tmp_path)
    samples = sheet(
        tmp_path / "in" / "samples.csv", {(1, 4): "2", (1, 6): "7", (2, 2): "low", (3, 8): "x"}, "samples"
    )
    rows = tables()
    rows["samples"][3][8] = "was noted"
    write_folder(trial, {"samples": rows["samples"]}, None)
    samples.write_text(samples.read_text().replace(",x\n", f",{FORMULA}\n"))
    cultivars = sheet(tmp_path / "in" / "cultivars.csv", {(1, 1): "nectarine", (1, 4): "700"}, "cultivars")
    outcome = bring_in([samples, cultivars], trial, said=EVERYWHERE)
    adds_up(outcome)
    assert [one.at for one in outcome.replaced] == [("cultivars", "Alvane", "chill_requirement_h"), ("samples", "S1", "red"), ("samples", "S3", "note")]  # fmt: skip
    now = read(trial).tables
    assert now["cultivars"]["fruit_type"].tolist() == ["peach", "nectarine", "peach"]
    assert now["samples"]["pick"].tolist() == [1, 1, 1, 2]
    assert now["samples"]["site"].tolist() == ["low", "high", "low", "low"]
    assert now["samples"]["red"].tolist()[0] == 7
    assert now["samples"]["note"][2] == changes_in(trial)[2].new == FORMULA
    assert f"'{FORMULA}" in (trial / "samples.csv").read_text()


def test_a_sheet_that_is_asked_about_corrects_too_in_the_unit_of_the_trial(tmp_path):
    trial = folder(tmp_path)
    file = tmp_path / "week 27.csv"
    file.write_text("Variety,Site,Date,Pick,Sample,Fruit,Suture (in)\n" + "".join(f"Alvane,low,2023-07-01,1,S1,{n},{size}\n" for n, size in ((1, "2.5"), (2, "2.4606299"), (3, "2.5"))))  # fmt: skip
    told: list[Question] = []

    def ask(question: Question) -> str:
        told.append(question)
        return RIGHT if question.path[0] == "differing" else {"unit": "in", "order": "day/month"}.get(str(question.path[-1])) or question.offer  # fmt: skip

    outcome = bring_in([file], trial, ask=singly(ask))
    adds_up(outcome)
    (question,) = [one for one in told if one.path[0] == "differing"]
    assert question.options == (KEEP, RIGHT)
    assert question.shown == ("  S1, fruit 1, suture_mm: “61.5” stands, the file has “63.5” (G2: “2.5”)",)
    assert [values(trial)[row][2] for row in (1, 2, 3)] == ["63.5", "62.5", "63.5"]
    assert outcome.counts["aside"] == 0


def test_an_answer_holds_for_the_very_values_it_was_given_for():
    three = differ()
    assert right(three, {whole(three): RIGHT}, {}) == {one.name for one in three}
    for others in (three[:2], differ(old="61.4"), differ(file="other.xlsx"), differ(4)):
        assert right(others, {whole(three): RIGHT}, {}) == frozenset()
        assert [one.path for one in open_of(others, {whole(three): RIGHT}, {})] == [("differing", whole(others))]  # fmt: skip
    assert right(three, {whole(three): f"? {RIGHT}"}, {}) == frozenset()


def test_one_by_one_and_what_is_kept_is_not_asked_again():
    three = differ()
    said = {whole(three): SINGLY}
    assert [one.path[1] for one in open_of(three, said, {})] == [one.name for one in three]
    said |= {three[0].name: KEEP, three[1].name: RIGHT, three[2].name: f"? {KEEP}"}
    assert [one.path[1] for one in open_of(three, said, {})] == [three[2].name]
    assert right(three, said, {}) == {three[1].name}
    left = [three[0], three[2]]
    forget(said, ["week.xlsx"], left)
    assert said == {three[0].name: KEEP, three[2].name: f"? {KEEP}"}
    assert [one.path[1] for one in open_of(left, said, {})] == [three[2].name]
    other = {"week.xlsx.csv: 1 values, 0": RIGHT}
    forget(other, ["week.xlsx"], [])
    assert other  # of another file


def test_later_leaves_what_was_answered_and_the_newest_file_comes_first(tmp_path):
    first, second = tmp_path / "a.csv", tmp_path / "b.csv"
    first.write_text("")
    second.write_text("")
    assert newest([first, second, tmp_path / "none.csv"])[-1] == "none.csv"
    ledger = Ledger([])
    ledger.differing = [*differ(1, "a.csv"), *differ(2, "b.csv")]
    given: dict[str, str] = {}

    def asked(questions: list[Question]) -> bool:
        assert [one.about for one in questions] == ["b.csv, the newest file", "a.csv"]
        given[str(questions[0].path[1])] = RIGHT
        return False

    assert chosen(ledger, given, {}, ["b.csv", "a.csv"], asked) is None
    assert [one.about for one in open_of(ledger.differing, given, {}, ["b.csv", "a.csv"])] == ["a.csv"]


def test_most_of_a_sample_otherwise_is_told_as_perhaps_another_pick():
    told = shown(differ(9), {("fruit", "S1"): 6})
    assert told[0] == "  Careful: in “S1” 9 of 15 values differ; that may be another pick, not a correction."
    assert not any("Careful" in line for line in shown(differ(9), {("fruit", "S1"): 10}))
    assert shown(differ(40), {("fruit", "S1"): 99})[-1] == "  and 28 more"


HOSTILE = [
    FORMULA,
    MARKUP,
    "-2 to +3",
    "'quoted",
    'a, "b"; c',
    "ligne 1 été",
    "＝1",
    "'=1",
    "-3.5",
    "x\ny",
    "\u202eabc",
]


def test_whatever_a_value_holds_is_text_in_the_log(tmp_path):
    (tmp_path / "importing").mkdir()
    pairs = list(pairwise(HOSTILE))
    put = [
        Differs(0, f"{new}.csv", "", "A1", "samples", ("S1",), "note", old, new, new) for old, new in pairs
    ]
    (tmp_path / LOG).write_bytes(with_changes(tmp_path, put[:3], "Ann"))
    (tmp_path / LOG).write_bytes(with_changes(tmp_path, put[3:], FORMULA))
    found = changes_in(tmp_path)
    one_line = {text: text.replace("\n", "\\n").replace("\u202e", "\\u202e") for text in HOSTILE}
    assert [(one.old, one.new) for one in found] == [(one_line[old], one_line[new]) for old, new in pairs]
    assert (found[0].who, found[-1].who) == ("Ann", FORMULA)
    with (tmp_path / LOG).open(newline="", encoding="utf-8") as lines:
        cells = [cell for row in csv.reader(lines) for cell in row]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "@", "＝")) or (cell[:1] == "-" and cell != "-3.5")]  # fmt: skip
    (tmp_path / LOG).write_bytes(b"\xff no log of ours")
    assert changes_in(tmp_path) == []
    assert with_changes(tmp_path, put[:1], "").startswith(b"\xff no log of ours\n20")
    assert isinstance(found[0], Change)


@pytest.fixture(scope="module")
def small(tmp_path_factory) -> Trial:
    return opened_trial(write_folder(tmp_path_factory.mktemp("small") / "trial", tables()))


@given(data=st.data())
def test_what_is_right_takes_its_place_and_all_else_stays(small, data):
    """Whatever differs, and whatever of it is right: those values and no others; every cell is accounted for."""
    frame = small.frames["fruit"]
    columns = ["suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix"]
    keys = pd.Index([f"{sample}\x1f{fruit:.0f}" for sample, fruit in zip(frame["sample"], frame["fruit"], strict=True)])  # fmt: skip
    stood = frame[columns].set_axis(keys)
    shape = stood.shape
    changed, wanted = (np.array(data.draw(st.lists(st.booleans(), min_size=stood.size, max_size=stood.size))).reshape(shape) for _ in range(2))  # fmt: skip
    coming = stood + np.where(changed, 1.0, 0.0)
    cells = np.array([[f"{cell:g}" for cell in row] for row in coming.to_numpy()], dtype=object)

    def joined(named: frozenset[str]) -> tuple[Standing, Ledger]:
        ledger = Ledger([Page("a.csv", "", cells, np.arange(2, len(cells) + 2))], (), named)
        codes = np.column_stack([ledger.codes(0, np.arange(len(cells)), at) for at in range(len(columns))])
        standing = Standing(stood.copy(), Written("fruit", small))
        standing.join(coming, pd.DataFrame(codes, keys, columns), np.zeros(len(coming), int), ledger, whole=False)  # fmt: skip
        return standing, ledger

    _, first = joined(frozenset())
    at = {one.name: (keys.get_loc("\x1f".join(one.key)), columns.index(one.heading)) for one in first.differing}  # fmt: skip
    assert len(at) == changed.sum()
    standing, ledger = joined(frozenset(name for name, place in at.items() if wanted[place]))
    assert np.array_equal(standing.values.to_numpy(), np.where(changed & wanted, coming, stood))
    assert len(standing.filled) == len(ledger.replaced) == (changed & wanted).sum()
    assert ledger.counts() == {"filled": stood.size, "read": stood.size - int((changed & ~wanted).sum()), "aside": int((changed & ~wanted).sum()), "unused": 0}  # fmt: skip
