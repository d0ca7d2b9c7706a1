"""A profile that arrives as bytes, from a stranger: read by the rules of a file, and never for long."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from dashboard.market import MarketError, read_market
from dashboard.market.reading import market_of, right_size
from tests.market.test_reading import GOOD


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("a = {b = " * 3000, "is not TOML"),
        ("a" + ".a" * 28 + " = 1", "not an entry of this table"),
        ("a" + ".a" * 50_000 + " = 1", "line 1 has 50,000 full stops; break it into shorter lines"),
        ("x = 0x" + "f" * 5000, "x = …: not an entry of this table"),
        (
            'name = "M"\n[[limit]]\n' + 'trait = "sugar"\nat_least = 0x' + "f" * 5000,
            "at_least = …: must be a finite number",
        ),
        ("x = " + "9" * 5000, "is not TOML"),
    ],
)
def test_a_profile_that_goes_on_for_ever_is_told_at_once(text, sentence):
    """Tables in tables and numbers without end are what a parser, or Python's own ``str``, gives up on."""
    started = time.monotonic()
    with pytest.raises(MarketError) as caught:
        market_of(text.encode(), "stand.toml")
    assert sentence in str(caught.value)
    assert len(str(caught.value)) < 500
    assert time.monotonic() - started < 5


def test_bytes_are_read_by_the_rules_of_a_file(tmp_path):
    path = tmp_path / "stand.toml"
    path.write_text(GOOD)
    whole = read_market(path)
    assert market_of(GOOD.encode(), "stand.toml") == replace(whole, source_path="")
    assert whole.source_path == str(path)
    with pytest.raises(MarketError, match=r"^stand.toml, 120001 bytes: larger than the 120 kB"):
        market_of(b"#" * 120_001, "stand.toml")
    right_size(120_000, "stand.toml")
