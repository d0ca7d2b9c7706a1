"""A list of names: what is meant for certain is taken, all else is told with its place; nothing is guessed, nothing is lost."""

from __future__ import annotations

import io

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from dashboard.answers.question import Question
from dashboard.handout import tables, workbook
from dashboard.places import demo_data
from dashboard.records.name_lists import LARGEST, MOST, NameList, Unmatched, of_file, of_text
from dashboard.visit.state import State

KNOWN = ("Alvane", "Brin-tel", "T 14-203", "T 1-4203", "1042", "Élan d'or", "4-5", "Corla, early", "=Sum")


def book(**sheets: list[list[object]]) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as made:
        for name, rows in sheets.items():
            sheet = made.add_worksheet(name)
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, row)
    return out.getvalue()


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("alvane\nBRINTEL\n t  14-203 ", ("Alvane", "Brin-tel", "T 14-203")),
        ("Alvane, brin tel;1042\tElan dor", ("Alvane", "Brin-tel", "1042", "Élan d'or")),
        ("Cultivar\nAlvane, Brintel", ("Alvane", "Brin-tel")),
        ("Cultivar,Flesh\nAlvane,white\n\nBrintel,yellow", ("Alvane", "Brin-tel")),
        ("What I ordered\n\nno;Variety\n1;Alvane\n2;Brintel", ("Alvane", "Brin-tel")),
        ('"Alvane";"corla, early"', ("Alvane", "Corla, early")),
        ("corla,  EARLY\nAlvane", ("Corla, early", "Alvane")),
        ("'=Sum\r\nAlvane\r\n", ("=Sum", "Alvane")),
        ("http://here:5006/?v=1&shortlist=Alvane,T+14-203,Corla%2C+early&tab=season", ("Alvane", "T 14-203", "Corla, early")),
        ("?v=1&units=si&shortlist=brintel", ("Brin-tel",)),
    ],
)  # fmt: skip
def test_names_are_found_whatever_their_case_spaces_and_hyphens(text, names):
    told = of_text(text, KNOWN)
    assert (told.names, told.unmatched, told.refused) == (names, (), None)
    assert of_file(text.encode("utf-8"), "list.txt", KNOWN) == told
    assert of_file(text.encode("utf-16"), "list.txt", KNOWN) == told  # as a spreadsheet saves text


def test_what_is_no_name_for_certain_is_told_with_its_place_and_what_it_may_be():
    told = of_text("Alvane\nAlvan\nt14203, 4.5\n2024-07-03\n3-Jul\n12 %\nQuite another", KNOWN)
    assert told.names == ("Alvane",)
    assert [(one.place, one.text, one.why, one.near(KNOWN)) for one in told.unmatched] == [
        ("line 2", "Alvan", "no", ("Alvane",)),
        ("line 3", "t14203", "several", ("T 14-203", "T 1-4203")),
        ("line 3", "4.5", "number", ("4-5",)),
        ("line 4", "2024-07-03", "date", ()),
        ("line 5", "3-Jul", "date", ()),
        ("line 6", "12 %", "number", ()),
        ("line 7", "Quite another", "no", ()),
    ]


def test_two_spellings_of_one_are_one_and_said_once():
    told = of_text("Alvane\nALVANE\nal-vane\nBrintel", KNOWN)
    assert (told.names, told.again) == (("Alvane", "Brin-tel"), ("Alvane",))


def test_a_workbook_is_read_where_a_heading_says_cultivar():
    raw = book(
        sites=[["site", "name"], ["hill", "Alvane"]],
        mine=[["Row", "Cultivar"], [1, "brintel"], [2, 1042.0], [3, 12.0]],
    )
    told = of_file(raw, "mine.xlsx", KNOWN)
    assert (told.names, told.of) == (("Brin-tel", "1042"), "the column Cultivar of the sheet mine")
    assert told.unmatched == (Unmatched("mine, row 4", "12", "number"),)
    assert of_file(book(one=[["Alvane", "x"], ["Brintel"]]), "a.xlsx", KNOWN).names == ("Alvane", "Brin-tel")


@pytest.mark.parametrize("form", ["shortlist.csv", "shortlist.xlsx", "handout.xlsx"])
def test_our_own_files_give_their_slate_back(demo, form):
    slate = tuple(demo.cultivars.index[5:17])
    asked = Question(demo, market="roadside_stand", shortlist=slate)
    raw = {"shortlist.csv": lambda: tables.csv(asked, "shortlist"), "shortlist.xlsx": lambda: tables.xlsx(asked, "shortlist"),
           "handout.xlsx": lambda: workbook.xlsx(asked)}[form]()  # fmt: skip
    told = of_file(raw, form, list(demo.cultivars.index))
    assert (set(told.names), told.unmatched, told.refused) == (set(slate), (), None)
    assert "the column Cultivar" in told.of


def test_a_link_of_the_page_gives_its_slate_back(demo):
    state = State(demo)
    state.choose(shortlist=tuple(demo.cultivars.index[:40]), market="roadside_stand", flesh_colour=("white",))
    assert (
        of_text(f"https://slate.example:5006/orchard{state.link}#x", list(demo.cultivars.index)).names
        == state.shortlist
    )


@pytest.mark.parametrize(
    ("raw", "rule"),
    [
        (b"", "it is empty"),
        (b" \n\t\n", "it is empty"),
        (b",;\n,", "it holds no name"),
        (b"%PDF-1.7 ...", "it is a PDF"),
        (b"\xd0\xcf\x11\xe0" + b"\0" * 99, "it is an old workbook (.xls)"),
        (b"\x89PNG....", "it is a picture"),
        (b"PK\x03\x04 torn", "not a workbook"),
        ("Élan".encode("latin-1"), "its text is not UTF-8 (line 1 has the byte 0xc9)"),
        (b"\xff\xfe\x00", "its text is damaged"),
        (b"a\0b\0c\0d\0", "it is no text"),
        (b"x" * (LARGEST + 1), f"it has {LARGEST + 1:,} bytes, more than the {LARGEST // 1000} kB"),
        (b"x\n" * (MOST + 1), f"it has more than {MOST:,} names"),
        (b"http://here/?v=1&market=packer", "the link carries no slate"),
        (book(empty=[]), "it has no cell with anything in it"),
        ((demo_data() / "workbook.xlsx").read_bytes(), "more than the 120 kB"),
    ],
    ids=range(15),
)  # fmt: skip
def test_what_holds_no_list_is_refused_in_a_sentence(raw, rule):
    told = of_file(raw, "mine", KNOWN)
    assert (told.names, told.unmatched) == ((), ())
    assert rule in told.refused[0]
    assert told.refused[1]


def test_a_workbook_that_unpacks_to_far_more_than_a_list_is_refused():
    raw = book(one=[["Alvane" + " " * 30_000 + str(number)] for number in range(900)])
    assert len(raw) < LARGEST
    assert "it unpacks to 27 MB" in of_file(raw, "mine.xlsx", KNOWN).refused[0]


def test_five_thousand_names_and_markup_are_read(demo):
    known = list(demo.cultivars.index)
    text = "\n".join([*known, *(f"<b>No {number}</b>" for number in range(5000 - len(known)))])
    told = of_text(text, known)
    assert set(told.names) == set(known)
    assert len(told.unmatched) == 5000 - len(known)
    assert told.unmatched[0].text == "<b>No 0</b>"


def spelled(name: str, how: int) -> str:
    """The same letters and digits in another case, with other spaces and hyphens."""
    other = [
        name.upper(),
        name.lower(),
        f"  {name} ",
        name.replace(" ", ""),
        name.replace("-", " "),
        name.replace(" ", "-"),
    ]
    return other[how % len(other)]


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_every_name_of_the_records_comes_back_in_any_case_and_spacing(demo, data):
    known = list(demo.cultivars.index)
    chosen = data.draw(st.lists(st.sampled_from(known), min_size=1, max_size=30))
    between = data.draw(st.sampled_from(["\n", "\r\n", ", ", ";", "\t", " ,\n"]))
    text = between.join(spelled(name, data.draw(st.integers(0, 5))) for name in chosen)
    told = of_text(text, known)
    assert told.names == tuple(dict.fromkeys(chosen))
    assert told.unmatched == ()
    assert set(told.again) == {name for name in chosen if chosen.count(name) > 1}


@settings(max_examples=200, deadline=None)
@given(st.one_of(st.text(), st.text(alphabet="AlvaneBrintT14-20,;\t\n\"'=<> "), st.binary()))
def test_any_text_and_any_bytes_give_names_or_a_reason(any_input):
    told = of_text(any_input, KNOWN) if isinstance(any_input, str) else of_file(any_input, "any", KNOWN)
    assert isinstance(told, NameList)
    assert set(told.names) <= set(KNOWN)
    assert bool(told.refused) != bool(told.names or told.unmatched)
    assert all(one.text.strip() and set(one.near(KNOWN)) <= set(KNOWN) for one in told.unmatched)
