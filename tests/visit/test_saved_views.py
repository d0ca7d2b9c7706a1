"""Prepared views: any list comes back from its file, and a bad file is told in sentences."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.visit.saved_views import LARGEST, LONGEST, MOST, View, moved, named, read, written

text = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=60)
names = text.map(lambda words: " ".join(words.split())).filter(bool)
queries = text.map(lambda words: "?" + words.strip().replace("?", ""))


@given(st.lists(st.tuples(names, queries.map(str.strip)), max_size=8, unique_by=lambda pair: pair[0]))
def test_any_views_come_back_from_their_file(pairs):
    views = tuple(View(*pair) for pair in pairs)
    if views:
        assert read(written(views).encode()) == (views, [])


@pytest.mark.parametrize(
    ("file", "told"),
    [
        (b"\xff\xfe", "is not text in UTF-8"),
        (b"view = ", "is not TOML"),
        (b"", "no view in it"),
        (b"view = 3", "no view in it"),
        (b"x" * (LARGEST + 1), "more than the 120 kB"),
        (b"view = [1]", "view 1: is no table"),
        (b'[[view]]\nname = "A"\n', "view 1, address: is missing"),
        (b'[[view]]\nname = 3\naddress = "?v=1"\n', "view 1, name: is missing or no text"),
        (b'[[view]]\nname = "A"\naddress = "market"\n', "has no question mark"),
        (b'[[view]]\nname = "A"\naddress = "?v=1"\ncolour = 1\n', "colour: not an entry"),
        (b'[[view]]\nname = "' + b"a" * 200 + b'"\naddress = "?v=1"\n', f"more than {LONGEST}"),
        (b'[[view]]\nname = "A"\naddress = "?' + b"a" * 40_000 + b'"\n', "ask for less"),
        (b"[" * 5000, "is not TOML"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_one_sentence(file, told):
    views, problems = read(file, "hall.toml")
    assert views == ()
    (said,) = problems
    assert told in said
    assert said.startswith("hall.toml")
    assert "\n" not in said


def test_sound_views_are_kept_beside_bad_ones():
    file = (
        '[[view]]\nname = "A"\naddress = "http://x/?v=1&seasons=2"\n[[view]]\nname = "A"\naddress = "?v=1"\n'
    )
    views, problems = read(file.encode())
    assert views == (View("A", "?v=1&seasons=2"),)
    assert "stands there already" in problems[0]
    many = written(View(f"V{n}", "?v=1") for n in range(MOST + 3))
    assert len(read(many.encode())[0]) == MOST


def test_a_view_is_added_or_put_in_place_of_its_namesake():
    views = named(named((), " Early  ones ", "?v=1&seasons=2"), "Late", "")
    assert views == (View("Early ones", "?v=1&seasons=2"), View("Late", "?v=1"))
    assert named(views, "Early ones", "?v=1")[0] == View("Early ones", "?v=1")
    for name, told in (("", "needs a name"), ("a" * 121, "shorter")):
        with pytest.raises(ValueError, match=told):
            named(views, name, "?v=1")
    with pytest.raises(ValueError, match="take one off"):
        named(tuple(View(str(n), "?v=1") for n in range(MOST)), "x", "?v=1")


def test_a_view_moves_within_the_list_and_not_out_of_it():
    one, two, three = (View(name, "?v=1") for name in ("one", "two", "three"))
    assert moved((one, two, three), 0, 1) == (two, one, three)
    assert moved((one, two, three), 2, -1) == (one, three, two)
    for place, by in ((0, -1), (2, 1), (3, -1), (-1, 1)):
        assert moved((one, two, three), place, by) == (one, two, three)


def test_a_list_is_kept_only_as_long_as_its_own_file_can_be_read_again():
    views: tuple[View, ...] = ()
    for place in range(23):  # of 5 kB each
        views = named(views, f"V{place}", "?v=1&own=" + "a" * 5_000)
    assert read(written(views).encode()) == (views, [])
    for name, letters in (("one more", 5_000), ("V0", 30_000)):
        with pytest.raises(ValueError, match="more than the 120 kB it may be; take one off"):
            named(views, name, "?v=1&own=" + "a" * letters)
