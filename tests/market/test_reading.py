"""Profiles from TOML: what is right is read in SI units, what is wrong is said in a sentence."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, MarketError, Wish, read_market, read_markets
from dashboard.places import MARKETS
from dashboard.terms.units import N_PER_LBF

GOOD = """
name = "Stand"
summary = "Sold ripe."
[[limit]]
class = "flesh_colour"
any_of = ["yellow", "red"]
source = "common practice, no source"
[[limit]]
trait = "size"
at_least = 2.5
unit = "in"
share = 0.8
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
trait = "split_pit"
shape = "smaller"
from = 0
to = 40
"""


def written(tmp_path, text: str | bytes, name: str = "stand.toml"):
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def fault(tmp_path, text: str | bytes) -> MarketError:
    with pytest.raises(MarketError) as caught:
        read_market(written(tmp_path, text))
    return caught.value


def test_a_profile_is_read_in_si_units(tmp_path):
    market = read_market(written(tmp_path, GOOD))
    assert (market.key, market.name, market.summary) == ("stand", "Stand", "Sold ripe.")
    assert market.limits == (
        Limit("class", "flesh_colour", ("yellow", "red"), source="common practice, no source"),
        Limit("trait", "size", at_least=63.5, share=0.8),
    )
    assert market.wishes == (
        Wish("firmness", "target", 2 * N_PER_LBF, 8 * N_PER_LBF, 16 * N_PER_LBF, 3.0, 2.0),
        Wish("split_pit", "smaller", 0.0, 0.0, 40.0, 1.0, 1.0),
    )


LIMIT = 'name = "M"\n[[limit]]\n'
WISH = 'name = "M"\n[[wish]]\n'


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("name = ", "stand.toml: is not TOML"),
        (b"\xff\xfe\x00 not text", "stand.toml: is not text in UTF-8; save it as UTF-8."),
        (
            "[[wish]]\ntrait='sugar'",
            'stand.toml, name: a market has a name; write name = "…" at the top.',
        ),
        ("name = 7", "stand.toml, name = 7: must be text in quotation marks."),
        ('name = "M"', "stand.toml: no limit and no wish; add at least one [[limit]] or [[wish]]."),
        ('name = "M"\nlimits = 3', "stand.toml, limits = 3: not an entry of this table; did you mean limit?"),
        (
            'name = "M"\nlimit = 3',
            "stand.toml, limit = 3: must be a list of tables; write [[limit]] above each",
        ),
        (LIMIT + "share = 0.8", "stand.toml, limit 1: a limit is about one class or one trait"),
        (LIMIT + 'class = "stone"\ntrait = "size"', "a limit is about one class or one trait"),
        (LIMIT + 'class = "flesh_color"', "limit 1, class = flesh_color: not one of fruit_type"),
        (LIMIT + 'class = "flesh_color"', "did you mean flesh_colour?"),
        (LIMIT + 'class = "stone"', 'limit 1, any_of: must be a list of words; write any_of = ["cling"].'),
        (
            LIMIT + 'class = "stone"\nany_of = ["fre"]',
            "limit 1, any_of = fre: not a stone; did you mean free?",
        ),
        (LIMIT + 'class = "stone"\nany_of = [["free"]]', "any_of = ['free']: not a stone"),
        (LIMIT + 'class = "stone"\nany_of = ["free"]\nshare = 1', "share = 1: not an entry of this table"),
        (LIMIT + 'trait = "sugr"\nat_least = 1', "limit 1, trait = sugr: not one of size, firmness"),
        (LIMIT + 'trait = "sugr"\nat_least = 1', "did you mean sugar?"),
        (
            LIMIT + 'trait = "size"\nat_least = 2',
            "limit 1, unit: size needs a unit; write one of mm, cm, in.",
        ),
        (
            LIMIT + 'trait = "size"\nat_least = 2\nunit = "lbf"',
            "limit 1, unit = lbf: does not measure size; write one of mm, cm, in.",
        ),
        (LIMIT + 'trait = "sugar"', "the limit on sugar has no bound; write at_least = … or at_most = …."),
        (LIMIT + 'trait = "sugar"\nat_least = "10"', "at_least = 10: must be a number"),
        (
            LIMIT + 'trait = "sugar"\nat_most = -10',
            "at_most = -10: no fruit is below 0; write 10, or remove the bound.",
        ),
        (LIMIT + 'trait = "sugar"\nat_least = true', "at_least = True: must be a number"),
        (LIMIT + 'trait = "sugar"\nat_least = nan', "at_least = nan: must be a finite number."),
        (LIMIT + f'trait = "sugar"\nat_least = 1{"0" * 400}', "must be a finite number."),
        (
            LIMIT + 'trait = "sugar"\nat_least = 12\nat_most = 9',
            "at_least = 12: is above at_most; exchange them.",
        ),
        (
            LIMIT + 'trait = "size"\nat_least = 2\nunit = "in"\nshare = 80',
            "share = 80.0: must be above 0 and at most 1; write 0.8.",
        ),
        (
            LIMIT + 'trait = "size"\nat_least = 2\nunit = "in"\nseasons = 8',
            "seasons = 8.0: is about a share of the fruit; write share = … too, or leave seasons out.",
        ),
        (
            LIMIT + 'trait = "size"\nat_least = 2\nunit = "in"\nshare = 0.8\nseasons = 10',
            "seasons = 10.0: must be above 0 and below 10; 8 asks for 8 seasons of 10, leave it out to take all seasons together.",
        ),
        (
            LIMIT + 'trait = "red"\nat_least = 5\nshare = 0.8',
            "red is judged once a sample, not on each fruit",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "bigger"',
            "wish 1, shape = bigger: not one of larger, smaller, target",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9',
            "wish 1, to: is missing; write to = a number.",
        ),
        (WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9\nto = 9', "from = 9.0: must be below to = 9"),
        (WISH + 'trait = "sugar"\nshape = "target"\nfrom = 9\nto = 12', "ideal: is missing"),
        (
            WISH + 'trait = "sugar"\nshape = "target"\nfrom = 9\nto = 12\nideal = 12',
            "must lie between from = 9 and to",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9\nto = 12\nideal = 10',
            "has no meaning for larger",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9\nto = 12\nweight = -1',
            "weight = -1.0: must be above 0",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9\nto = 12\nexponent = 0',
            "exponent = 0.0: must be above 0",
        ),
        ("a = " + "[" * 5000, "stand.toml: is not TOML"),
    ],
)
def test_a_fault_is_one_sentence_with_place_value_rule_and_suggestion(tmp_path, text, sentence):
    error = fault(tmp_path, text)
    assert sentence in str(error)
    assert str(error).startswith("stand.toml")
    assert str(error).endswith((".", "?"))
    assert not str(error).endswith("?.")
    assert "\n" not in str(error)


words = st.sampled_from(
    ["size", "sugar", "red", "in", "lbf", "stone", "free", "larger", "target", "a\nb", "", "x" * 90]
)
numbers = st.one_of(st.integers(-(10**400), 10**400), st.integers(-5, 20), st.floats(), st.booleans())
entry = st.one_of(words, numbers, st.lists(words, max_size=3), st.dictionaries(words, numbers, max_size=2))
entries = st.sampled_from(
    [
        "class",
        "trait",
        "any_of",
        "at_least",
        "at_most",
        "unit",
        "share",
        "shape",
        "from",
        "to",
        "ideal",
        "weight",
        "odd",
    ]
)


def toml(value) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {toml(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return json.dumps(value) if isinstance(value, str) else str(value)


@given(
    st.lists(
        st.tuples(st.sampled_from(["limit", "wish"]), st.dictionaries(entries, entry, max_size=7)), max_size=3
    )
)
def test_whatever_is_written_ends_in_a_market_or_in_one_sentence(tmp_path_factory, tables):
    text = 'name = "M"\n' + "".join(
        f"[[{kind}]]\n" + "".join(f"{key} = {toml(value)}\n" for key, value in table.items())
        for kind, table in tables
    )
    folder = tmp_path_factory.getbasetemp()
    written(folder, text)
    markets, problems = read_markets(folder)
    assert len(markets) + len(problems) == 1
    assert all(market.limits or market.wishes for market in markets.values())
    for problem in problems:
        assert problem.startswith("stand.toml")
        assert "\n" not in problem
        assert len(problem) < 500


@given(st.binary(max_size=200))
def test_any_bytes_end_in_one_sentence(tmp_path_factory, content):
    with pytest.raises(MarketError):
        read_market(written(tmp_path_factory.getbasetemp(), content))


def test_a_file_over_one_megabyte_is_refused_unread(tmp_path):
    assert "larger than the 120 kB" in str(fault(tmp_path, GOOD + "#" * 120_000))


def test_a_folder_or_a_missing_file_is_not_a_profile(tmp_path):
    with pytest.raises(MarketError, match="not a file"):
        read_market(tmp_path)
    with pytest.raises(MarketError, match="cannot be read"):
        read_market(tmp_path / "none.toml")


def test_a_byte_order_mark_does_not_matter(tmp_path):
    assert read_market(written(tmp_path, b"\xef\xbb\xbf" + GOOD.encode())).name == "Stand"


def test_good_profiles_load_beside_faulty_ones(tmp_path):
    written(tmp_path, GOOD)
    written(tmp_path, "name = 7", "broken.toml")
    written(tmp_path, GOOD, "twin.toml")
    markets, problems = read_markets(tmp_path, tmp_path / "nowhere")
    assert list(markets) == ["stand"]
    assert len(problems) == 3
    assert problems[0].startswith("broken.toml, name = 7")
    assert "stand.toml already has that name" in problems[1]
    assert "no such folder" in problems[2]


def test_a_later_folder_takes_the_place_of_a_profile_of_the_same_file_name(tmp_path):
    mine = tmp_path / "mine"
    mine.mkdir()
    written(tmp_path, GOOD)
    written(mine, GOOD.replace("Sold ripe.", "Sold today."))
    markets, problems = read_markets(tmp_path, mine)
    assert markets["stand"].summary == "Sold today."
    assert not problems


def test_the_profiles_that_come_with_the_project_are_sound_and_give_a_source_for_every_figure():
    markets, problems = read_markets(MARKETS)
    assert not problems
    assert list(markets) == [
        "long_distance_shipper",
        "low_acid_white_speciality",
        "pick_your_own",
        "regional_wholesale",
        "roadside_stand",
    ]
    for market in markets.values():
        assert market.summary.endswith(".")
        assert market.limits
        assert market.wishes
        assert all(part.source for part in (*market.limits, *market.wishes))
