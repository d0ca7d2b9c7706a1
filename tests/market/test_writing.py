"""A market written down and read back is the same market, whatever it is called and in whichever units."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, Market, Wish, read_market, read_markets
from dashboard.market.reading import market_of
from dashboard.market.statements import statements
from dashboard.market.writing import CHANGED, file_name, sourced, toml
from dashboard.places import MARKETS
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF
from tests.market import strategies
from tests.market.test_statements import numbers

PACKAGE, _ = read_markets(MARKETS)
SYSTEMS = ("us", "si")


def same(market: Market, back: Market) -> None:
    assert (back.name, back.summary) == (market.name, market.summary)
    assert len(back.parts) == len(market.parts)
    for part, read in zip(market.parts, back.parts, strict=True):
        (figures, rest), (again, other) = numbers(part), numbers(read)
        assert (rest, part.source) == (other, read.source)
        for figure, now in zip(figures, again, strict=True):
            assert (now is None) == (figure is None)
            assert figure is None or now == pytest.approx(figure, rel=1e-6, abs=1e-12)


@given(strategies.markets(), strategies.systems)
def test_any_market_comes_back_from_its_profile(market, system):
    back = market_of(toml(market, system).encode(), "m.toml")
    same(market, back)
    assert statements(back) == statements(market)  # so an unchanged copy is known again


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("market", PACKAGE.values(), ids=PACKAGE)
def test_the_markets_of_the_package_come_back_from_a_file(tmp_path, market, system):
    path = tmp_path / "copy.toml"
    path.write_text(toml(market, system), encoding="utf-8")
    same(market, read_market(path))


@pytest.mark.parametrize(("key", "lines"), [
    ("regional_wholesale", ["at_least = 2.375", 'unit = "in"', "share = 0.8"]),
    ("long_distance_shipper", ["at_least = 10", "at_most = 14.33", 'unit = "lbf"']),
    ("roadside_stand", ['shape = "target"', "from = 2", "ideal = 8", "to = 16", "weight = 0.5"]),
])  # fmt: skip
def test_figures_are_written_as_they_stood_in_the_profile(key, lines):
    written = toml(PACKAGE[key], "us").splitlines()
    assert set(lines) <= set(written)


def test_a_profile_reads_as_one_written_by_hand():
    market = Market(
        "m", "Stand", "",
        (Limit("class", "stone", ("free", "not recorded")), Limit("trait", "size", at_least=2.5 * MM_PER_INCH, share=0.8, source="ours")),
        (Wish("firmness", "target", 2 * N_PER_LBF, 8 * N_PER_LBF, 16 * N_PER_LBF, 3.0, 2.0), Wish("red", "larger", 3, 9, 9)),
    )  # fmt: skip
    assert (
        toml(market, "us")
        == """name = "Stand"

[[limit]]
class = "stone"
any_of = ["free", "not recorded"]

[[limit]]
trait = "size"
at_least = 2.5
unit = "in"
share = 0.8
source = "ours"

[[wish]]
trait = "firmness"
shape = "target"
from = 2
ideal = 8
to = 16
unit = "lbf"
weight = 3
exponent = 2

[[wish]]
trait = "red"
shape = "larger"
from = 3
to = 9
weight = 1
"""
    )


HOSTILE = (
    '"; DROP', "\\", '"""', "a\\u0041", "]]\n[[wish]]\ntrait = 'x'", "# no comment", "\u202egnirts\u202c", "a\x00b\x07c", "\x7f",
    "<img src=x onerror=window.hurt=1> & =1+1", "עדן", "桃 🍑", "name = 1", "\ud800half",
)  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_stays_a_name(name):
    market = replace(PACKAGE["roadside_stand"], name=name, summary=name)
    written = toml(market, "us").encode()  # also half a character, which no UTF-8 has, is written
    back = market_of(written, "m.toml")
    assert back.name == back.summary == " ".join(name.replace("\ud800", "\ufffd").split())
    assert len(back.parts) == len(market.parts)
    assert set(tomllib.loads(written.decode())) == {"name", "summary", "limit", "wish"}
    assert all(letter.isprintable() for line in written.decode().splitlines() for letter in line)


def test_what_was_not_changed_keeps_its_source_and_the_rest_says_that_it_has_none():
    base = PACKAGE["roadside_stand"]
    heavier = replace(base.wishes[0], weight=9.0, source="")
    opened = Market("o", "O", "", (), (replace(heavier, source="a letter from the buyer"),))
    changed = replace(
        base,
        limits=tuple(replace(limit, source="") for limit in base.limits),
        wishes=(heavier, *base.wishes[1:]),
    )
    assert sourced(changed, base).limits == base.limits
    assert sourced(changed, base).wishes == (replace(heavier, source=CHANGED), *base.wishes[1:])
    assert sourced(changed, base, opened).wishes[0].source == "a letter from the buyer"
    assert {part.source for part in sourced(changed, None).parts} == {CHANGED}
    assert CHANGED == "changed on the page, no source"


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Roadside stand, changed", "roadside_stand_changed.toml"), ("../../etc/passwd", "etc_passwd.toml"), ("桃", "market.toml"),
        ("", "market.toml"), ("a" * 500, "a" * 60 + ".toml"),
    ],
)  # fmt: skip
def test_a_file_is_called_after_the_market(name, file):
    assert file_name(name) == file


@given(st.text())
def test_any_name_makes_a_plain_file_name(name):
    assert file_name(name).removesuffix(".toml").replace("_", "").isalnum()
    assert file_name(name).isascii()
