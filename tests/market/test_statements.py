"""A market as lines of a link: what is written is read back, and whatever else stands there is told in one sentence."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, Market, MarketError, Wish, read_markets
from dashboard.market.statements import LONGEST, MOST, OWN, Statements, stated, statement, statements
from dashboard.places import MARKETS
from tests.market import strategies

PACKAGE, _ = read_markets(MARKETS)


def numbers(part: Limit | Wish) -> tuple[list[float | None], tuple]:
    """The figures of a limit or wish, and all else but its source."""
    if isinstance(part, Limit):
        return [part.at_least, part.at_most, part.share], (part.kind, part.key, part.any_of)
    return [part.low, part.target, part.high, part.weight, part.exponent], (part.key, part.shape)


@pytest.mark.parametrize("market", PACKAGE.values(), ids=PACKAGE)
def test_the_markets_of_the_package_come_back_whole_with_their_sources(market):
    back = stated(statements(market), market)
    assert (back.limits, back.wishes) == (market.limits, market.wishes)


@given(strategies.markets())
def test_any_market_comes_back_from_its_lines(market):
    lines = statements(market)
    back = stated(lines)
    assert statements(back) == lines
    for part, read in zip(market.parts, back.parts, strict=True):
        (figures, rest), (again, same) = numbers(part), numbers(read)
        assert rest == same
        for figure, other in zip(figures, again, strict=True):
            assert (figure is None) == (other is None)
            assert figure is None or other == pytest.approx(figure, rel=1e-7)


def test_a_line_reads_as_it_is_written():
    assert statement("size at_least 63.5 share 0.8") == Limit("trait", "size", at_least=63.5, share=0.8)
    assert statement("stone any_of free semi-free not_recorded") == Limit(
        "class", "stone", ("free", "semi-free", "not recorded")
    )
    assert statement("want sugar larger from 9 to 14 weight 4") == Wish("sugar", "larger", 9, 14, 14, 4)
    assert statement("want firmness target from 10 ideal 30 to 60 exponent 2") == Wish(
        "firmness", "target", 10, 30, 60, 1, 2
    )


def test_ends_nearer_than_eight_digits_are_kept_apart():
    near = Market("m", "M", "", (), (Wish("sugar", "target", 10.0, 10.00000001, 10.00000002),))
    assert stated(statements(near)).wishes == near.wishes


def test_a_changed_market_is_called_so_and_keeps_the_sources_of_what_was_not_changed():
    base = PACKAGE["roadside_stand"]
    lines = (*statements(base)[:-1], "want split_pit smaller from 0 to 60 weight 2")
    changed = stated(lines, base)
    assert (changed.key, changed.name, changed.summary) == (base.key, "Roadside stand, changed", base.summary)
    assert changed.limits == base.limits
    assert changed.wishes[:-1] == base.wishes[:-1]
    assert changed.wishes[-1] == replace(base.wishes[-1], weight=2.0, source="")
    assert stated(lines).name == OWN
    assert statements(None) == ()


BAD = {
    "": "not one of size",
    "want": "trait: not one of size",
    "size": "the limit on size has no bound",
    "size at_least": "words and figures take turns",
    "size at_least much": "at_least = much: must be a number",
    "size at_least nan": "must be a finite number",
    "size at_least inf": "must be a finite number",
    "size at_least 70 at_most 60": "is above at_most; exchange them",
    "size at_leest 60": "did you mean at_least?",
    "size at_least 60 at_least 70": "said twice",
    "size at_least 60 share 1.2": "must be above 0 and at most 1",
    "size at_least 60 share 80": "write 0.8",
    "red at_least 5 share 0.8": "judged once a sample",
    "siz at_least 60": "did you mean size?",
    "stone any_of": "must be a list of words",
    "stone any_of fre": "did you mean free?",
    "stone free": "a class limit says any_of",
    "want sugar": "not one of larger, smaller, target",
    "want suger larger from 9 to 14": "did you mean sugar?",
    "want sugar bigger from 9 to 14": "not one of larger",
    "want sugar larger from 9": "to: is missing",
    "want sugar larger from 14 to 9": "must be below to = 9",
    "want sugar target from 9 to 14": "ideal: is missing",
    "want sugar target from 9 ideal 20 to 14": "must lie between",
    "want sugar larger from 9 to 14 weight 0": "must be above 0",
    "want sugar larger from 9 to 14 weight -3": "must be above 0",
    "want sugar larger from 9 to 14 trait 3": "must be text",
    "<img src onerror=alert(1)>": "must be a number",
    "<svg/onload=alert(1)> at_least": "words and figures take turns",
    "<svg/onload=alert(1)> at_least 3": "trait = <svg/onload=alert(1)>: not one of size",
    "size at_least <script>": "at_least = <script>: must be a number",
}


@pytest.mark.parametrize(("line", "told"), BAD.items())
def test_a_bad_line_is_told_in_one_sentence(line, told):
    with pytest.raises(MarketError) as caught:
        statement(line, "line 7")
    sentence = str(caught.value)
    assert sentence.startswith("line 7")
    assert told in sentence
    assert sentence.endswith((".", "?"))
    assert line not in Statements()
    assert told in Statements().fault(line)
    with pytest.raises(MarketError, match="line 2"):
        stated(["sugar at_least 9", line])


def test_lines_and_their_length_have_an_end():
    line = "sugar at_least 9"
    assert len(stated([line] * MOST).limits) == MOST == 40
    with pytest.raises(MarketError, match="41 lines: a market has at most 40"):
        stated([line] * (MOST + 1))
    assert line + " " * (LONGEST - len(line)) in Statements()
    with pytest.raises(MarketError, match="201 characters, more than 200"):
        statement(line + " " * (LONGEST + 1 - len(line)))
    with pytest.raises(MarketError, match="no limit and no wish; add at least one"):
        stated([])


words = st.sampled_from(
    ["want", "size", "sugar", "stone", "any_of", "free", "larger", "target", "from", "to", "ideal", "at_least", "share", "9", "-1", "nan", "trait", "class", "unit", "source"]
)  # fmt: skip


@given(st.lists(words, max_size=12).map(" ".join) | st.text(max_size=250))
def test_whatever_stands_there_is_followed_or_told(line):
    fault = Statements().fault(line)
    assert (line in Statements()) == (fault == "")
    assert "\n" not in fault
    assert len(fault) < 500
    if not fault:
        assert statement(statements(stated([line]))[0]) == statement(line)
