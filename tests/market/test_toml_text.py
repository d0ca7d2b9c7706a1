"""TOML from a stranger is read, or refused, in bounded work: counted here, not timed."""

from __future__ import annotations

import sys
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dashboard.market.toml_text import LARGEST, MOST_DOTTED, TomlError, toml_table

SIZE = LARGEST - 10  # bytes of each text
# What a parser may be slow on: each fills a file.
LONG: dict[str, Callable[[int], str]] = {
    "one dotted key": lambda size: "a" + ".a" * (size // 2 - 2) + "=1",
    "dotted keys": lambda size: "k.a.b.c.d.e.f.g=1\n" * (size // 18),
    "dots hidden behind another line's end": lambda size: (
        'a = "\u2028"' + '."\u2028"' * (size // 6 - 3) + "=1"
    ),
    "tables": lambda size: "[[view]]\n" * (size // 9),
    "one deep table": lambda size: "[" + "a." * (size // 2 - 3) + "a]",
    "lists in lists": lambda size: "a=" + "[" * (size - 2),
    "tables in tables": lambda size: "a=" + "{a=" * (size // 3 - 2),
    "escapes": lambda size: 'a="' + r"\n" * (size // 2 - 3) + '"',
    "quotes": lambda size: 'a="""' + '""a' * (size // 3 - 3) + '"""',
    "figures": lambda size: "a=" + "9" * (size - 2),
    "comments": lambda size: "#\n" * (size // 2),
}


def steps(text: str) -> int:
    """Lines of Python that reading it takes; a refusal counts what it took."""
    taken = 0

    def count(_frame, event, _arg):
        nonlocal taken
        taken += event == "line"
        return count

    before = sys.gettrace()
    sys.settrace(count)
    try:
        toml_table(text.encode())
    except TomlError:
        pass
    finally:
        sys.settrace(before)
    return taken


@pytest.mark.parametrize("kind", LONG)
def test_the_work_grows_with_the_size_and_no_faster(kind):
    small, large = (LONG[kind](size) for size in (SIZE // 16, SIZE // 4))
    assert steps(large) < 4 * 1.5 * steps(small) + 10_000


@pytest.mark.parametrize(("lines", "dots"), [(1, 60_000), (1, 3_200), (50, 1_000), (250, 300)])
def test_a_text_of_dots_is_refused_before_it_is_parsed(lines, dots):
    text = "\n".join(f"k{line}" + ".a" * dots + " = 1" for line in range(lines))
    assert lines * dots**2 > MOST_DOTTED
    with pytest.raises(TomlError, match=f"^line 1 has {dots:,} full stops; break it into shorter lines$"):
        toml_table(text.encode())


def test_ends_of_lines_that_are_none_to_a_parser_hide_no_dots():
    with pytest.raises(TomlError, match="line 1 has 20,000 full stops"):
        toml_table(('"\u2028"' + '."\u2028"' * 20_000 + " = 1").encode())


def test_a_list_of_full_length_addresses_is_read():
    """120 views of a market of 40 lines, each with five figures that have a point."""
    address = "?v=1&own=" + ",".join(["want+sugar+larger+from+9.5+to+14.5+weight+4.5"] * 20)
    text = "".join(f'[[view]]\nname = "{place}"\naddress = "{address}"\n' for place in range(120))
    assert len(toml_table(text.encode())["view"]) == 120


@settings(max_examples=200)
@given(st.text(st.sampled_from("a.\"'[]{}=\n\\#,1 \u2028\r"), max_size=60))
def test_whatever_stands_there_is_read_or_refused(text):
    told = None
    try:
        toml_table(text.encode())
    except TomlError as fault:
        told = fault
    assert told is None or (told.rule and told.suggestion)
