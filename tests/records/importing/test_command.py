"""The questions on a terminal: by number, by word, by the offer, or later."""

from __future__ import annotations

import builtins
from dataclasses import replace

import pytest

from dashboard.records.importing.grouped import together
from dashboard.records.importing.incoming import bring_in
from dashboard.records.importing.instruments import tip_of
from dashboard.records.importing.mapping import ANY, Question
from dashboard.records.importing.measures import scale_of
from dashboard.records.importing.spellings import no_name
from dashboard.records.importing.terminal import asked, asked_together
from tests.records.importing.test_twelve_ways import csv_file

UNIT = Question(
    ("a", "unit"), "in which unit?", ("mm", "cm", "in"), ("  “2.5” → in: 63.5 mm",), "", "Suture, column B"
)


@pytest.fixture
def typed(monkeypatch):
    def types(*lines: str):
        left = list(lines)

        def one(_prompt: str) -> str:
            if not left:
                raise EOFError
            return left.pop(0)

        monkeypatch.setattr(builtins, "input", one)

    return types


def test_a_word_its_number_the_offer_or_later(typed, capsys):
    for lines, said in (
        (["in"], "in"),
        (["3"], "in"),
        (["later"], None),
        ([], None),
        (["ft", "7", "", "cm"], "cm"),
    ):
        typed(*lines)
        assert asked(UNIT) == said
    shown = capsys.readouterr().out
    assert "Suture, column B: in which unit?" in shown
    assert "“2.5” → in: 63.5 mm" in shown
    assert shown.count("Type one of these words, or its number.") == 3
    typed("")
    assert asked(Question(("a", "is"), "which?", ("suture", "cross"), offer="cross")) == "cross"


def test_something_else_is_taken_where_it_may_be(typed):
    scale = Question(("a", "scale"), "on which scale?", may=lambda said: scale_of(said) is not None)
    typed("0-10", "10 best", "0 to 10, 5 best", "1 to 5, 1 best")
    assert asked(scale) == "1 to 5, 1 best"
    year = Question(("a", "year"), "which year?", ("file name", ANY), may=str.isdigit)
    typed("a value of your own", "soon", "2016")
    assert asked(year) == "2016"
    name = Question(("cultivars", "Alvanne"), "which cultivar?", ("Alvane", "Alvanne", "not used", ANY))
    typed("4", "1")
    assert asked(name) == "4"  # a name like another; what it may be is asked for again
    typed("a value of your own", "1")
    assert asked(name) == "Alvane"


def test_a_number_that_may_be_the_answer_stands_for_no_word(typed, capsys):
    fair = Question(
        ("a", "words", "fair"), "what does “fair” mean?", ("nothing", "aside", ANY), may=str.isdigit
    )
    typed("1")
    assert asked(fair) == "1"
    line = replace(fair, path=("b", "words", "fair"), alike=("words", "fair"))
    kept: dict[tuple, str] = {}
    typed("1")
    (group,) = together([replace(fair, alike=("words", "fair")), line])
    assert asked_together(group, lambda path, said: kept.update({tuple(path): said}))
    assert kept == {("a", "words", "fair"): "1", ("b", "words", "fair"): "1"}
    assert "1. nothing" not in capsys.readouterr().out


@pytest.mark.parametrize(
    "said", ["0 to 10, 10 best", "0-10, 10 best", "1 – 5 1 best", "0 to 10, best 10", "0-10 10 is best"]
)
def test_scales_as_people_write_them(said):
    found = scale_of(said)
    assert found is not None
    assert found.low < found.high


@pytest.mark.parametrize(
    ("said", "mm"),
    [
        ("8", 8),
        ("8 mm", 8),
        ("5/16", 8),
        ('5/16"', 8),
        ("5/16 in", 8),
        ("7/16", 11),
        ("80", None),
        ("x", None),
    ],
)
def test_a_tip_as_people_call_it(said, mm):
    assert tip_of(said) == mm


def test_units_as_people_call_them_and_none_that_no_fruit_has(tmp_path):
    rows = [["Alvane", "Low", "2022-07-05", number, 2.31 + number / 20, 9 + number] for number in range(10)]
    file = csv_file(tmp_path / "a.csv", ("Cultivar", "Site", "Date", "Fruit", "Suture", "Pressure 1"), rows)
    units: dict[str, Question] = {}

    def ask(group, put):
        columns = [one for one in group.members if one.path[-1] == "is"]
        for one in columns:
            put(one.path, one.proposal or one.offer)
        units.update({one.about.partition(",")[0]: one for one in group.members if one.path[-1] == "unit"})
        return bool(columns)

    bring_in([file], tmp_path / "trial", ask=ask)
    (suture,) = [one for about, one in units.items() if "Suture" in about]
    assert (suture.meant("inches"), suture.meant("Inch"), suture.meant("mm")) == ("in", "in", "mm")
    assert (suture.takes("in"), suture.takes("mm")) == (True, False)
    assert suture.refuses("mm") == "most of these figures cannot be in mm: a fruit has 15 to 150 mm."


@pytest.mark.parametrize("said", ["yes", "No", "3"])
def test_what_answers_another_question_is_no_site(said, tmp_path):
    assert no_name(["HB"], said) == f"“{said}” is no name in your sheets; type the name itself."
    assert no_name(["HB", said], said) == no_name(["HB"], "Hollin") == ""
