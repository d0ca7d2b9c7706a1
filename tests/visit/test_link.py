"""Any choices, written into a link, are read back; anything else in a link is left out and told in one sentence."""

from __future__ import annotations

import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from dashboard.visit import link as address
from dashboard.visit.state import State

NAMES = (
    "Aldermere", "T 14-203", "a,b", "a&b=c", "100 %", "1+1", "a%2Cb", "#top", "?v=2", "“quoted” 'twice'", '"', "\\",
    "<img src=x onerror=alert(1)>", "=cmd|' /C calc'!A0", "\u202egnirts\u202c", "\u200fעדן", "桃", "🍑", "ü", "u\u0308", "~", "*", ";", "a/b", " two  blanks ",
)  # fmt: skip
KNOWN = {
    "flesh_colour": ("yellow", "white", "not recorded"),
    "seasons": (1, 2, 3, 5, 8),
    "market": ("", "roadside_stand", "pick_your_own"),
    "shortlist": NAMES,
    "cultivar": ("", *NAMES),
    "units": ("us", "si"),
}
DEFAULTS = {"flesh_colour": (), "seasons": 1, "market": "", "shortlist": (), "cultivar": "", "units": "us"}

texts = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=30)


def followed(query: str, known=KNOWN, defaults=DEFAULTS) -> dict:
    choices, notes = address.read(query, known, defaults)
    assert notes == []
    return {**defaults, **choices}


@st.composite
def asked(draw) -> tuple[dict, dict]:
    """Choices among values that are on offer, and those values; names may be any text."""
    names = tuple(dict.fromkeys((*draw(st.lists(texts, max_size=8)), *NAMES)))
    known = {**KNOWN, "shortlist": names, "cultivar": ("", *names)}
    several = lambda values: st.lists(st.sampled_from(values), unique=True, max_size=6).map(tuple)  # noqa: E731
    choices = {
        field: draw(several(values) if isinstance(DEFAULTS[field], tuple) else st.sampled_from(values))
        for field, values in known.items()
    }
    return choices, known


@given(asked())
def test_any_choices_come_back_from_their_link(question):
    choices, known = question
    link = address.written(choices, DEFAULTS)
    assume(len(link) <= address.LONGEST)
    assert followed(link, known) == choices


@given(asked())
def test_a_link_holds_only_what_mail_and_browsers_leave_alone(question):
    link = address.written(question[0], DEFAULTS)
    assert re.fullmatch(r"\?v=\d+(&[a-z_]+=[A-Za-z0-9_.~%+,-]*)*", link)


@given(st.text(st.characters(exclude_categories=("Cs",)), max_size=300))
def test_no_text_is_too_strange_to_be_read(query):
    choices, notes = address.read(query, KNOWN, DEFAULTS)
    for field, value in choices.items():
        several = isinstance(DEFAULTS[field], tuple)
        assert all(item in KNOWN[field] for item in (value if several else (value,)))
    for note in notes:
        assert note.isprintable()
        assert len(note) < 220


@given(asked(), st.randoms(use_true_random=False))
def test_a_link_is_followed_in_any_order(question, random):
    choices, known = question
    parts = address.written(choices, DEFAULTS).removeprefix("?").split("&")
    random.shuffle(parts)
    assert followed("?" + "&".join(parts), known) == choices


def test_the_parts_of_a_link_stand_in_a_fixed_order():
    choices = {**DEFAULTS, "units": "si", "flesh_colour": ("white", "yellow"), "seasons": 3}
    assert address.written(choices, DEFAULTS) == "?v=1&flesh_colour=white,yellow&seasons=3&units=si"
    assert address.written(DEFAULTS, DEFAULTS) == "?v=1"


def test_the_order_of_a_shortlist_is_kept():
    for names in (NAMES[:3], NAMES[2::-1]):
        assert followed(address.written({**DEFAULTS, "shortlist": names}, DEFAULTS))["shortlist"] == names


@pytest.mark.parametrize("query", ["", "?", "?v=1", "v=1"])
def test_an_empty_link_asks_for_nothing(query):
    assert address.read(query, KNOWN, DEFAULTS) == ({}, [])


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("?v=1&soil=clay", "“soil”"),
        ("?v=1&flesh_colour=purple", "flesh color “purple”"),
        ("?v=1&seasons=99", "seasons “99”"),
        ("?v=1&seasons=-1", "seasons “-1”"),
        ("?v=1&seasons=2.5", "seasons “2.5”"),
        ("?v=1&units=furlongs", "units “furlongs”"),
        ("?v=1&cultivar=Nobody", "cultivar “Nobody”"),
        ("?v=2", "another version"),
        ("?v=", "another version"),
        ("?v=1&market=roadside_stand,pick_your_own", "market more than once"),
        ("?v=1&market=roadside_stand&market=pick_your_own", "market more than once"),
        ("?v=1&flesh_colour=white&flesh_colour=yellow", "flesh color more than once"),
        ("?v=1&" + "x" * address.LONGEST, f"more than {address.LONGEST:,}"),
    ],
)  # fmt: skip
def test_what_cannot_be_followed_is_told_in_one_sentence(query, told):
    _, notes = address.read(query, KNOWN, DEFAULTS)
    assert len(notes) == 1
    assert told in notes[0]
    assert notes[0].endswith(".")


def test_the_rest_of_a_bad_link_is_followed():
    query = "?v=3&flesh_colour=white,purple,yellow&soil=clay&market=pick_your_own&seasons=4"
    choices, notes = address.read(query, KNOWN, DEFAULTS)
    assert choices == {"flesh_colour": ("white", "yellow"), "market": "pick_your_own"}
    assert len(notes) == 4


@pytest.mark.parametrize(
    "field", ["market=roadside_stand,pick_your_own", "market=roadside_stand&market=pick_your_own"]
)
def test_of_a_choice_asked_for_twice_the_first_is_followed(field):
    assert address.read(f"?v=1&{field}", KNOWN, DEFAULTS)[0] == {"market": "roadside_stand"}


def test_a_name_written_twice_is_taken_once():
    assert followed("?v=1&shortlist=Aldermere,Aldermere")["shortlist"] == ("Aldermere",)


def test_a_name_that_is_written_otherwise_comes_with_the_nearest_one():
    for query in ("?v=1&cultivar=aldermer", "?v=1&shortlist=ALDER-MERE"):
        choices, (note,) = address.read(query, KNOWN, DEFAULTS)
        assert choices == {}
        assert note.endswith("it was left out. Did you mean “Aldermere”?")


def test_a_link_of_thousands_of_names_looks_up_those_that_are_told_alone(monkeypatch):
    looked_up = []
    monkeypatch.setattr(address, "nearest", lambda name, _names: looked_up.append(name) or "")
    _, notes = address.read("?v=1&shortlist=" + ",".join(f"x{n}" for n in range(4000)), KNOWN, DEFAULTS)
    assert len(looked_up) == address.MOST_NOTES
    assert notes[-1] == f"{4000 - address.MOST_NOTES} further parts of this link could not be followed."


@pytest.mark.parametrize("item", ["a%252Bb", "1%2B1"])
def test_a_stranger_s_text_is_told_as_it_was_meant(item):
    (note,) = address.read(f"?v=1&cultivar=No+{item}", KNOWN, DEFAULTS)[1]
    assert {"a%252Bb": "“No a%2Bb”", "1%2B1": "“No 1+1”"}[item] in note


def test_a_long_part_is_cut_and_control_characters_are_taken_out():
    (note,) = address.read("?v=1&cultivar=" + "x" * 500, KNOWN, DEFAULTS)[1]
    assert len(note) < 160
    assert "x…”" in note
    (note,) = address.read("?v=1&cultivar=a%00%0Ab%E2%80%AEc", KNOWN, DEFAULTS)[1]
    assert "“a··b·c”" in note


def test_a_link_of_countless_bad_parts_does_not_fill_the_screen():
    _, notes = address.read("?v=1" + "&soil=clay" * 700, KNOWN, DEFAULTS)
    assert len(notes) <= 12


class Lines:
    """What a link may ask for and nobody can count out; it notes how often it is asked."""

    most = 41

    def __init__(self) -> None:
        self.asked = 0

    def __contains__(self, line: object) -> bool:
        self.asked += 1
        return str(line).startswith("good")

    def fault(self, line: str) -> str:
        self.asked += 1
        return f"“{line}” is none"


@pytest.mark.parametrize("line", ["good", "bad"])
def test_of_thousands_of_lines_only_as_many_are_read_as_a_market_may_have(line):
    known = Lines()
    query = "?v=1&own=" + ",".join(f"{line}{n}" for n in range(3_000))
    choices, notes = address.read(query, {"own": known}, {"own": ()})
    assert known.asked <= 41 + address.MOST_NOTES
    assert len(choices.get("own", ())) == (41 if line == "good" else 0)
    assert len(notes) == address.MOST_NOTES + 1
    left = 3_000 - (41 if line == "good" else 0) - address.MOST_NOTES
    assert notes[-1] == f"{left} further parts of this link could not be followed."


class Word(str):
    """Notes how often it is written out or compared."""

    touched = 0

    def __str__(self) -> str:
        Word.touched += 1
        return str.__str__(self)


def test_the_work_for_a_link_grows_with_its_length_and_no_faster():
    def work(times: int) -> int:
        Word.touched = 0
        known = {"flesh_colour": (Word("yellow"),)}
        address.read("?v=1&flesh_colour=" + "yellow," * times, known, {"flesh_colour": ()})
        return Word.touched

    assert work(400) <= 4 * work(100)


def test_a_kind_of_season_is_a_year_in_links(catalogue):
    """Links made before the name was changed still open, and those made now open there."""
    state = State(catalogue, "?v=1&year=late")
    assert (state.season_kind, state.notices) == ("late", ())
    assert state.link == "?v=1&year=late"
    state.follow("?v=1&season_kind=early")
    assert state.season_kind == "ordinary"
    assert "“season_kind”, which this page does not know" in state.notices[0]
    state.follow("?v=1&year=hot")
    assert "asks for year “hot”" in state.notices[0]
