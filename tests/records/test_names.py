"""A name is found by what people make of it: without hyphens, in any case, with one letter wrong; and only then."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records.names import FORGIVEN, alike, found, nearest, plain

NAMES = (
    "Aldrum",
    "Grand Sotrel",
    "K14-022",
    "K14-227",
    "K14-230",
    "MV21-286",
    "Sotrel",
    "Trenirrin",
    "Zoë d'Été",
)
LETTERS = st.characters(categories=("Lu", "Ll", "Nd"), max_codepoint=0x24F)
WORDS = st.text(LETTERS, min_size=FORGIVEN + 1, max_size=14)


@pytest.mark.parametrize(
    ("part", "names"),
    [
        ("K14-227", ["K14-227"]),
        ("k14227", ["K14-227"]),
        ("K14 227", ["K14-227"]),
        ("k14–227", ["K14-227"]),
        ("K14-272", ["K14-227"]),  # two swapped
        ("K15-227", ["K14-227"]),  # a wrong one
        ("trenirin", ["Trenirrin"]),  # one too few
        ("trennirrin", ["Trenirrin"]),  # one too many
        ("Tremir", ["Trenirrin"]),  # in a beginning alone
        ("zoe dete", ["Zoë d'Été"]),
        ("sotrel", ["Sotrel", "Grand Sotrel"]),  # who begins with it comes first
        ("sotrle", ["Sotrel", "Grand Sotrel"]),
        ("286", ["MV21-286"]),
        ("k14", ["K14-022", "K14-227", "K14-230"]),
        ("rum", ["Aldrum"]),
        ("ald", ["Aldrum"]),
        ("alx", []),  # too short to forgive anything
        ("aldixx", []),  # two wrong
        ("  ", []),
        ("", []),
    ],
)
def test_what_is_typed_finds_what_was_meant(part, names):
    assert list(found(part, NAMES)) == names


def test_a_name_of_signs_alone_is_found_by_them():
    assert found("%%", ("Aldrum", "%% %", "%")) == ("%% %",)
    assert found("%", ("Aldrum", "%% %", "%")) == ("%", "%% %")


def test_of_two_names_that_differ_in_a_hyphen_alone_the_one_that_is_written_comes_first():
    assert found("K14 227", ("K14-227", "K14 227")) == ("K14 227", "K14-227")
    assert alike("k14227", ("K14-227", "K14 227", "K14-228")) == ["K14-227", "K14 227"]


@given(st.text(max_size=30))
def test_what_is_plain_stays_so_and_case_does_not_matter(text):
    assert plain(plain(text)) == plain(text)
    assert plain(text.upper().lower()) == plain(text.lower())


@given(
    st.lists(
        st.text(min_size=1, max_size=12).map(str.strip).filter(bool), min_size=1, max_size=20, unique=True
    ),
    st.data(),
)
def test_every_name_finds_itself_first_and_nothing_is_made_up(names, data):
    name = data.draw(st.sampled_from(names))
    hits = found(name, names)
    assert set(hits) <= set(names)
    assert len(set(hits)) == len(hits)
    if name.strip():
        assert hits[0] in (name, name.strip())


@given(WORDS, st.data())
def test_one_slip_of_the_pen_is_forgiven(name, data):
    letters = list(plain(name))
    at = data.draw(st.integers(0, len(letters) - 2))
    slip = data.draw(st.sampled_from(["wrong", "missing", "doubled", "swapped"]))
    if slip == "wrong":
        letters[at] = "x"
    elif slip == "missing":
        del letters[at]
    elif slip == "doubled":
        letters.insert(at, letters[at])
    else:
        letters[at], letters[at + 1] = letters[at + 1], letters[at]
    assert found("".join(letters), (name,)) == (name,)


@given(*[st.text("abc1", min_size=FORGIVEN, max_size=7)] * 2)
def test_whoever_is_found_holds_it_or_begins_one_letter_away(part, name):
    beginnings = [name[:size] for size in range(len(name) + 1)]
    meant = part in name or any(slips(part, one) <= 1 for one in beginnings)
    assert found(part, (name,)) == ((name,) if meant else ())


def slips(one: str, other: str) -> int:
    """Letters wrong, missing, too many or swapped, by the textbook table of optimal string alignment."""
    table = {(-1, at): at + 1 for at in range(-1, len(other))} | {
        (at, -1): at + 1 for at in range(-1, len(one))
    }
    for i, a in enumerate(one):
        for j, b in enumerate(other):
            ways = [table[i - 1, j] + 1, table[i, j - 1] + 1, table[i - 1, j - 1] + (a != b)]
            if i and j and (a, b) == (other[j - 1], one[i - 1]):
                ways.append(table[i - 2, j - 2] + 1)
            table[i, j] = min(ways)
    return table[len(one) - 1, len(other) - 1]


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("Trenirin", "Trenirrin"),
        ("k14 227", "K14-227"),
        ("Sotral", "Sotrel"),
        ("0", ""),
        ("Somebody else", ""),
        ("", ""),
    ],
)
def test_the_nearest_is_offered_only_where_it_is_near(name, near):
    assert nearest(name, NAMES) == near


def test_two_thousand_names_are_no_wait():
    names = [f"K{year}-{number:03}" for year in range(10, 30) for number in range(100)]
    found("warm", names)
    start = time.process_time()
    for part in ("k14", "K14 027", "k15x27", "nobody of that name"):
        found(part, names)
    assert time.process_time() - start < 4 * 0.1  # a tenth of a second is at once; it takes a tenth of that
    assert found("k15x27", names)[0].startswith("K1")
