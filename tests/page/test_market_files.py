"""A market saved as a profile, and a profile opened: what goes home, what is known again, what is told."""

from __future__ import annotations

import json

import pytest

from dashboard.market import read_markets
from dashboard.market.drafting import Draft
from dashboard.market.reading import market_of
from dashboard.market.statements import MOST, stated, statements
from dashboard.market.writing import CHANGED, toml
from dashboard.places import MARKETS
from tests.page.frame.test_market import EVIL, Visit


@pytest.fixture
def packer(catalogue, prepared) -> Visit:
    return Visit(catalogue, "?v=1&market=packer")


def test_a_copy_is_the_market_with_its_sources_in_the_reader_s_units(catalogue, demo):
    visit = Visit(demo, "?v=1&market=roadside_stand")
    visit.do(
        [visit.part("wish", "Sugar"), "weight", "9"],
        ["", "name", ' My "stand" '],
        ["", "summary", "Saturdays."],
    )
    saved = visit.saved()
    assert saved["file"] == "my_stand.toml"
    back = market_of(saved["text"].encode(), saved["file"])
    assert (back.name, back.summary) == ('My "stand"', "Saturdays.")
    base = demo.markets["roadside_stand"]
    assert statements(back) == visit.state.own
    assert back.wishes[0].source == CHANGED
    assert [part.source for part in (*back.limits, *back.wishes[1:])] == [
        part.source for part in (*base.limits, *base.wishes[1:])
    ]
    assert "at_least = 2.25" in saved["text"]
    assert visit.saved()["tick"] != saved["tick"]  # pressed again, it comes again


def test_a_copy_without_a_name_is_told(packer):
    packer.do(["", "name", "  "])
    packer.do(act="save")
    assert packer.told["fault"]["text"] == "Name of the copy: a market has a name; write one."
    packer.do(["", "name", "Ours"])
    packer.do(act="save")
    assert packer.told["fault"] is None
    assert json.loads(packer.editor.saved)["file"] == "ours.toml"


def test_a_copy_that_was_saved_is_opened_by_somebody_else(catalogue):
    first, second = Visit(catalogue, "?v=1&market=packer&units=si"), Visit(catalogue)
    first.do([first.part("limit", "Size"), "at_least", "61"])
    second.open(first.saved()["text"].encode())
    assert (second.state.market, second.state.own) == ("packer", first.state.own)
    assert second.told["name"] == "Packer, changed"
    assert second.told["fault"] is None
    untouched = Visit(catalogue)
    untouched.open(toml(catalogue.markets["packer"], "us").encode())
    assert (untouched.state.market, untouched.state.own) == ("packer", ())


def test_a_profile_of_another_name_is_an_own_market_and_keeps_name_and_sources_for_its_copy(catalogue):
    visit = Visit(catalogue, "?v=1&market=packer")
    market = read_markets(MARKETS)[0]["pick_your_own"]
    visit.open(toml(market, "us").replace(market.name, EVIL).encode())
    assert visit.state.market == ""
    assert stated(visit.state.own).parts
    assert visit.told["name"] == EVIL
    back = market_of(visit.saved()["text"].encode(), "m.toml")
    assert back.name == EVIL
    assert [part.source for part in back.parts] == [part.source for part in market.parts]


GOOD = 'name = "M"\n[[limit]]\ntrait = "sugar"\n'


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"#" * 120_001, "mine.toml, 120001 bytes: larger than the 120 kB a market profile may be; is it the right file?"),
        (b"\xff\xfe", "mine.toml: is not text in UTF-8; save it as UTF-8."),
        (b"PK\x03\x04", "mine.toml: is not TOML"),
        (b"a = " + b"[" * 9000, "mine.toml: is not TOML"),
        (b'name = "M"', "mine.toml: no limit and no wish; add at least one [[limit]] or [[wish]]."),
        (b'name = "M"\n[[limit]]\ntrait = "suger"\nat_least = 9', "mine.toml, limit 1, trait = suger: not one of"),
        (f"{GOOD}at_least = 12\nat_most = 9".encode(), "mine.toml, limit 1, at_least = 12: is above at_most; exchange them."),
        (b'name = "M"\n[[wish]]\ntrait = "sugar"\nshape = "larger"\nfrom = 9\nto = 12\nweight = -1', "wish 1, weight = -1.0: must be above 0"),
        ((f"{GOOD}at_least = 9\n" + '[[limit]]\ntrait = "red"\nat_least = 3\n' * MOST).encode(), "41 lines: a market has at most 40."),
        (b"", "mine.toml, name: a market has a name"),
    ],
)  # fmt: skip
def test_a_bad_profile_is_told_in_one_sentence_and_nothing_is_lost(packer, content, told):
    packer.do([packer.part("wish", "Sugar"), "weight", "8"])
    stands, parts = packer.state.question, packer.told["parts"]
    packer.open(content)
    fault = packer.told["fault"]
    assert told in fault["text"]
    assert (fault["part"], fault["field"]) == ("", "")
    assert "\n" not in fault["text"]
    assert packer.state.question is stands
    assert packer.told["parts"] == parts


def test_a_file_too_large_is_told_without_being_sent_and_a_torn_one_too(packer):
    packer.do(act="open", file="x" * 500, size=3_000_000_000, content="")
    assert "x" * 100 + ", 3000000000 bytes: larger than the 120 kB" in packer.told["fault"]["text"]
    packer.do(act="open", file="mi\nne.toml", size=5, content="&&&")
    assert packer.told["fault"]["text"] == "mi ne.toml: did not arrive whole; open it once more."


def test_of_one_message_only_so_many_changes_are_read(packer, monkeypatch):
    put = []
    monkeypatch.setattr(Draft, "put", lambda _draft, part, name, text: put.append(text))
    packer.do(*([packer.part("wish", "Sugar"), "weight", "8"] for _ in range(20_000)))
    assert len(put) == 200
