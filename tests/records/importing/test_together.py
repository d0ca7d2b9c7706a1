"""Questions that one answer may hold for: nothing is lost, nothing is answered otherwise than by itself, and what differs is asked apart."""

from __future__ import annotations

import builtins

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records.importing.grouped import MOST, offered_alike, together
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.kinds import COLUMNS, DAYS, LISTS, NAMES, SCALES, UNITS, YES
from dashboard.records.importing.mapping import ANY, Answers, Question
from dashboard.records.importing.proposed import proposed
from dashboard.records.importing.spellings import asked_names
from dashboard.records.importing.terminal import asked_together
from dashboard.records.importing.together import answer, put_all
from tests.records.importing.season import is_true, season
from tests.records.importing.test_twelve_ways import csv_file

_KINDS = st.sampled_from([(), (UNITS, "a.csv", "diameters"), (UNITS, "b.csv", "firmness"), (DAYS, "order", "a.csv"), ("marks",), ("zero", "figures"), (COLUMNS, "a.csv"), (NAMES,), ("scale", "2021", "1")])  # fmt: skip


@st.composite
def questions(draw) -> list[Question]:
    count = draw(st.integers(0, 45))
    found = []
    for number in range(count):
        alike = draw(_KINDS)
        low, high = sorted(draw(st.tuples(st.sampled_from([0.0, 1.0]), st.sampled_from([5.0, 9.0]))))
        figures = (
            (low, high) if alike[:1] == ("scale",) else draw(st.sampled_from([(), (2.5,), (64.0,), (6.4,)]))
        )
        found.append(Question(
            ("layout", number), "what?", draw(st.sampled_from([("a", "b"), ("a", "b", "c"), ("a", ANY)])), offer=draw(st.sampled_from(["", "a"])),
            alike=alike, line=(draw(st.sampled_from(["", "A", "B"])), draw(st.sampled_from(["x", "y", f"n{number}"])), ""), figures=figures,
            proposal=draw(st.sampled_from(["", "a"])),
        ))  # fmt: skip
    return found


@given(questions())
def test_no_question_gets_lost_and_each_is_asked_once(asked):
    groups = together(asked)
    assert sorted(one.path for group in groups for one in group.members) == sorted(one.path for one in asked)
    for group in groups:
        assert len({one.alike[:1] for one in group.members}) == 1
        assert len({part.tag for part in group.parts}) == len(group.parts)
        if group.kind not in LISTS:
            assert len({one.options for one in group.members}) == 1
        elif not group.single and group.kind == NAMES:
            assert all(part.first.proposal for part in group.parts)
            assert len(group.parts) <= MOST
        for part in group.parts:
            levels = [one.figures[0] for one in part.members if group.kind == UNITS and one.figures]
            assert not levels or max(levels) / min(levels) < 1.8
            if group.kind == SCALES:  # of several years only with the same ends, see below
                assert len({one.alike for one in part.members}) == 1


@given(questions(), st.sampled_from(["a", "b", "c", YES]))
def test_an_answer_for_all_is_the_answer_of_each(asked, said):
    for group in together(asked):
        put: dict[tuple, str] = {}
        for part in group.parts:
            meant = answer(part, said)
            refused = put_all(part, meant, put.__setitem__)
            for one in part.members:
                assert (one.path in put) == (not refused)
                assert refused or put[one.path] == (one.proposal if said == YES else said)
                assert bool(refused) == any(not other.takes(meant) for other in part.members)


def scale(name: str, year: str, low: float, high: float) -> Question:
    return Question(("layout", 0, "columns", name, "scale", year), "on which scale?", alike=("scale", year, "1"), line=("", f"{name}, {year}", ""), figures=(low, high))  # fmt: skip


def test_scales_of_years_are_one_question_only_where_their_ends_are_the_same():
    asked = [
        scale("Red", "2020", 0, 10),
        scale("Shape", "2020", 2, 8),
        scale("Red", "2021", 0, 10),
        scale("Red", "2022", 1, 9),
    ]
    (group,) = together(asked)
    assert [len(part.members) for part in group.parts] == [3, 1]


def test_what_was_answered_of_a_like_column_is_offered_and_of_another_level_not():
    def unit(number: int, middle: float) -> Question:
        return Question(
            ("layout", 0, number),
            "in which unit?",
            ("mm", "in"),
            alike=(UNITS, "a.csv", "diameters"),
            figures=(middle,),
        )

    offers = [one.offer for one in offered_alike([unit(1, 2.5), unit(2, 64.0)], [(unit(0, 2.4), "in")])]
    assert offers == ["in", ""]


def typed(monkeypatch, *lines: str) -> None:
    left = list(lines)
    monkeypatch.setattr(builtins, "input", lambda _: left.pop(0))


def column(letter: str, name: str, offer: str) -> Question:
    return Question(("layout", 0, "columns", name, "is"), "which column is this?", ("suture", "cross", "red", "not used"), (), offer, name, alike=(COLUMNS, "a.csv"), line=(letter, name, "“61”"), proposal=offer)  # fmt: skip


TABLE = [
    column("A", "Sut", "suture"),
    column("B", "Width", "suture"),
    column("C", "Red", "red"),
    column("D", "Taster", ""),
]


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (["B", "cross", "yes", "D=not used"], ["suture", "cross", "red", "not used"]),
        (["B=cross, D=not used", "yes"], ["suture", "cross", "red", "not used"]),
        (["yes, B=cross, D=not used"], ["suture", "cross", "red", "not used"]),
        (["?", "what", "b d", "2", "4", "yes"], ["suture", "cross", "red", "not used"]),
        (["not used"], ["not used"] * 4),
        (["one by one", "", "2", "", "4"], ["suture", "cross", "red", "not used"]),
        (["D=nothing", "yes", "not used"], ["suture", "suture", "red", "not used"]),
        (["B=cross", "later"], [None, "cross", None, None]),
    ],
)
def test_a_table_of_columns_on_a_terminal(monkeypatch, capsys, lines, said):
    typed(monkeypatch, *lines)
    answers = Answers({"format": 1, "layout": [{"headings": []}]})
    (group,) = together(TABLE)
    assert asked_together(group, answers.put) == ("later" not in lines)
    assert [answers.at(one.path) for one in TABLE] == said
    shown = capsys.readouterr().out
    assert "D  Taster  “61” → ?" in shown


@pytest.mark.parametrize(
    ("lines", "said"), [(["n"], ["n", "n"]), (["2"], ["lbf", "lbf"]), (["o", "n", "lbf"], ["lbf", "n"])]
)
def test_a_unit_is_no_column_of_that_letter(monkeypatch, lines, said):
    """Column N is there, and N may be a word; the word that may be answered comes first."""
    typed(monkeypatch, *lines)
    asked = [Question(("layout", 0, letter), "in which unit?", ("n", "lbf"), alike=("zero", "a.csv"), line=(letter, f"P {letter}", "")) for letter in "NO"]  # fmt: skip
    answers = Answers({"format": 1, "layout": [{"headings": []}]})
    (group,) = together(asked)
    assert asked_together(group, answers.put)
    assert [answers.at(one.path) for one in asked] == said


def test_what_one_line_refuses_is_asked_about_alone(monkeypatch):
    twice = Question(TABLE[1].path, "which?", TABLE[1].options, (), "suture", alike=TABLE[1].alike, line=TABLE[1].line, proposal="suture", refuses=lambda said: "Sut is suture already." if said == "suture" else "")  # fmt: skip
    typed(monkeypatch, "yes", "suture", "cross")
    answers = Answers({"format": 1, "layout": [{"headings": []}]})
    (group,) = together([TABLE[0], twice])
    assert asked_together(group, answers.put)
    assert [answers.at(one.path) for one in (TABLE[0], twice)] == ["suture", "cross"]


COUNTS = {"Alvane": 120, "Alvanne": 3, "ALVANE": 90, "Brintel": 100, "Brintal": 60, "Corvala": 40, "Corvale": 50, "Corvali": 2, "Dusk": 80, "Dusk II": 70}  # fmt: skip


def test_a_list_of_names_holds_only_what_is_plain():
    found = proposed(asked_names(COUNTS, (), {}), COUNTS, {})
    assert found == {
        "Alvanne": "Alvane",
        "ALVANE": "Alvane",
        "Dusk II": "Dusk II",
    }  # Corvali may be two, Brintal is not rare


def test_a_season_is_asked_about_in_eight_questions(tmp_path):
    """One answer a group, and every figure in the trial is the true one."""
    samples = season(2)
    head = ("Var.", "Place", "Picked", "Frt", "Seam", "Width", "P1", "P2", "°Brix", "Taster")
    rows = [[s.cultivar, s.site, f"{s.day:%m/%d/%Y}", n, *(s.eighths[n - 1] / 8), *s.pounds[n - 1], "n/a" if n == 3 else s.brix[n - 1], "x"] for s in samples for n in range(1, 11)]  # fmt: skip
    file = csv_file(tmp_path / "a.csv", head, rows)
    prompts: list[str] = []
    how = {"order": "month/day", "diameters": "in", "firmness": "lbf", "marks": "nothing"}

    def ask(group, put) -> bool:
        if group.kind == COLUMNS:
            prompts.append("columns")
            for part in group.parts:
                assert not put_all(part, part.first.proposal or "not used", put)
            return True
        prompts.append(group.kind)
        for part in group.parts:
            known = [how[word] for word in part.first.alike if word in how]
            said = part.first.proposal or next(iter(known), "") or {"tip_mm": "8"}.get(str(part.first.path[-1])) or part.first.offer or "yes"  # fmt: skip
            assert not put_all(part, answer(part, said), put)
        return True

    outcome = bring_in([file], tmp_path / "trial", ask=ask)
    assert outcome.counts["aside"] == 0
    assert len(prompts) == 8
    gone = frozenset((sample.key, 3, 4) for sample in samples)
    is_true(tmp_path / "trial", samples, gone)
