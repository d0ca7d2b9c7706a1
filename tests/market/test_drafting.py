"""A market while it is changed: untouched figures stay, typed ones are read in the reader's unit, bad ones are told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, Market, Wish, read_markets
from dashboard.market.drafting import FIELDS, Draft, DraftFaultError
from dashboard.market.statements import MOST, stated, statements
from dashboard.places import MARKETS
from dashboard.terms.traits import CLASSES, PLACED, TRAITS
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF
from tests.market import strategies

PACKAGE, _ = read_markets(MARKETS)
MARKET = Market(
    "m", "M", "",
    (
        Limit("trait", "size", at_least=2.375 * MM_PER_INCH, share=0.8),
        Limit("trait", "red", at_least=3.0, at_most=9.0),
        Limit("class", "stone", ("free", "cling")),
    ),
    (Wish("sugar", "larger", 9.0, 14.0, 14.0, 4.0, 2.0), Wish("firmness", "target", 2 * N_PER_LBF, 8 * N_PER_LBF, 16 * N_PER_LBF)),
)  # fmt: skip
SIZE, RED, STONE, SUGAR, FIRMNESS = (part.id for part in Draft(MARKET, "us").parts)


def changed(*typed: tuple[str, str, str], system: str = "us") -> Market:
    draft = Draft(MARKET, system)
    for part, field, text in typed:
        draft.put(part, field, text)
    return stated(draft.lines)


def fault(*typed: tuple[str, str, str]) -> DraftFaultError:
    with pytest.raises(DraftFaultError) as caught:
        changed(*typed)
    return caught.value


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("market", PACKAGE.values(), ids=PACKAGE)
def test_a_market_nobody_touched_says_the_same_in_any_units(market, system):
    assert Draft(market, system).lines == statements(market)


@given(strategies.markets(), strategies.systems)
def test_so_does_any_market(market, system):
    assert Draft(market, system).lines == statements(market)


def test_texts_are_short_and_in_the_reader_s_unit():
    texts = {part.id: part.texts for part in Draft(MARKET, "us").parts}
    assert texts[SIZE] == {"at_least": "2.375", "share": "80"}
    assert texts[FIRMNESS] == {"from": "2", "ideal": "8", "to": "16", "weight": "1"}
    metric = {part.id: part.texts for part in Draft(MARKET, "si").parts}
    assert metric[FIRMNESS]["ideal"] == "35.6"  # 8 lb are 35.59 N


def test_a_typed_figure_is_read_in_the_reader_s_unit_and_the_others_stay():
    assert changed((SIZE, "at_least", "2.5")).limits[0] == Limit("trait", "size", at_least=63.5, share=0.8)
    assert changed((SIZE, "at_least", "63.5"), system="si").limits[0].at_least == 63.5
    moved = changed((FIRMNESS, "weight", "2.5"), system="si").wishes[1]
    assert moved.weight == 2.5
    assert moved.target == pytest.approx(8 * N_PER_LBF, rel=1e-7)  # shown as 35.6 N, and still 8 lb


@pytest.mark.parametrize(("typed", "mm"), [("2 3/8", 60.325), ("2  1/2", 63.5), ("5/2", 63.5)])
def test_a_diameter_may_be_typed_in_fractions_of_an_inch(typed, mm):
    """Diameters are stated in inches by eighths (7 CFR 51.3152(b) for nectarines); an inch is 25.4 mm exactly."""
    assert changed((SIZE, "at_least", typed)).limits[0].at_least == pytest.approx(mm, abs=1e-9)


def test_seasons_of_ten_stand_beside_a_share_and_not_without():
    limit = changed((SIZE, "seasons", "8")).limits[0]
    assert (limit.share, limit.seasons) == (0.8, 8.0)
    assert "leave seasons out" in str(fault((SIZE, "seasons", "8"), (SIZE, "share", "")))


def test_a_cleared_share_asks_for_the_mean_and_a_cleared_bound_is_none():
    assert changed((SIZE, "share", "")).limits[0].share is None
    assert changed((RED, "at_most", "")).limits[1] == Limit("trait", "red", at_least=3.0)


def test_another_way_keeps_the_ends_and_an_ideal_starts_in_the_middle():
    assert changed((SUGAR, "shape", "smaller")).wishes[0] == Wish("sugar", "smaller", 9, 9, 14, 4, 2)
    assert changed((SUGAR, "shape", "target")).wishes[0] == Wish("sugar", "target", 9, 11.5, 14, 4, 2)
    assert changed((FIRMNESS, "shape", "larger")).wishes[1].target == pytest.approx(16 * N_PER_LBF)
    assert changed((SUGAR, "shape", "sideways")).wishes == changed().wishes


@pytest.mark.parametrize(
    ("part", "field", "text", "sentence"),
    [
        (SIZE, "at_least", "", "Limit on size, at least: the limit on size has no bound; write one of its two bounds, or remove the limit."),
        (SIZE, "at_least", "big", "Limit on size, at least = big: must be a number; as in 12 or 12.5."),
        (SIZE, "at_least", "2,5", "Limit on size, at least = 2,5: must be a number; write 2.5."),
        (SIZE, "at_least", "2 1/0", "Limit on size, at least = 2 1/0: must be a number; as in 12 or 12.5."),
        (SIZE, "at_least", "nan", "Limit on size, at least = nan: must be a number; as in 12 or 12.5."),
        (SIZE, "at_most", "2", "Limit on size, at least = 2.375: is above at most; exchange them."),
        (SIZE, "share", "120", "Limit on size, share of fruit = 120: must be above 0 and at most 100; 80 asks for 80 of 100 fruit, none for the mean."),
        (SIZE, "share", "0", "Limit on size, share of fruit = 0: must be above 0 and at most 100; 80 asks for 80 of 100 fruit, none for the mean."),
        (SIZE, "seasons", "11", "Limit on size, in so many seasons of 10 = 11: must be above 0 and below 10; 8 asks for 8 seasons of 10, leave it out to take all seasons together."),
        (RED, "at_most", "2", "Limit on red skin, at least = 3: is above at most; exchange them."),
        (SUGAR, "from", "", "Wish for sugar, from: is missing; write a figure, or remove the wish."),
        (SUGAR, "from", "14", "Wish for sugar, from = 14: must be below to = 14; let from be the smaller of the two."),
        (SUGAR, "to", "8", "Wish for sugar, from = 9: must be below to = 8; let from be the smaller of the two."),
        (SUGAR, "weight", "0", "Wish for sugar, weight = 0: must be above 0; remove the wish to ignore it."),
        (SUGAR, "weight", "-2", "Wish for sugar, weight = -2: must be above 0; remove the wish to ignore it."),
        (SUGAR, "weight", "", "Wish for sugar, weight: is missing; write a figure, or remove the wish."),
        (FIRMNESS, "ideal", "20", "Wish for firmness, ideal = 20: must lie between from = 2 and to = 16."),
        (SUGAR, "from", "<img src=x onerror=alert(1)>", "Wish for sugar, from = <img src=x onerror=alert(1)>: must be a number; as in 12 or 12.5."),
        (SUGAR, "from", "9" * 500, "Wish for sugar, from = " + "9" * 60 + ": must be below to = 14; let from be the smaller of the two."),
    ],
)  # fmt: skip
def test_a_bad_figure_is_told_with_its_place_value_rule_and_a_suggestion(part, field, text, sentence):
    told = fault((part, field, text))
    assert str(told) == sentence
    assert told.part == part
    assert told.where in FIELDS


def test_a_class_without_a_word_is_told():
    draft = Draft(MARKET, "us")
    draft.tick(STONE, "free", False)
    assert "stone any_of cling" in draft.lines
    draft.tick(STONE, "cling", False)
    with pytest.raises(
        DraftFaultError, match="Limit on pit: no word is ticked; tick what is taken, or remove"
    ):
        _ = draft.lines
    draft.tick(STONE, "not recorded", True)
    draft.tick(STONE, "<b>", True)
    assert "stone any_of not_recorded" in draft.lines


def test_the_last_part_and_too_many_of_them_are_told():
    draft = Draft(MARKET, "us")
    for part in list(draft.parts):
        draft.remove(part.id)
    with pytest.raises(DraftFaultError, match="This market: no limit and no wish; add at least one"):
        _ = draft.lines
    crowd = Market("m", "M", "", (MARKET.limits[0],) * (MOST + 1))
    with pytest.raises(DraftFaultError, match="a market has at most 40"):
        _ = Draft(crowd, "us").lines


def test_what_is_not_there_yet_can_be_added_and_gone_again():
    draft = Draft(None, "us")
    assert draft.missing("limit").keys() == {*CLASSES, *TRAITS, *PLACED}
    assert draft.missing("wish").keys() == {*TRAITS}
    for what in ("limit", "wish"):
        for key in list(draft.missing(what)):
            added = draft.add(what, key, [1.0, 2.0, 5.0, 9.0])
            assert draft.parts[-1].id == added
            assert (draft.parts[-1].what, draft.parts[-1].key) == (what, key)
            assert draft.add(what, key, []) == ""
    assert len(stated(draft.lines).parts) == len(CLASSES) + len(PLACED) + 2 * len(TRAITS)
    assert draft.add("limit", "price", []) == draft.add("wish", "stone", []) == ""
    draft.remove(draft.parts[0].id)
    assert draft.missing("limit") == {"fruit_type": "Fruit type"}


typed = st.tuples(
    st.sampled_from([SIZE, RED, STONE, SUGAR, FIRMNESS, "nobody"]),
    st.sampled_from([*FIELDS, "key", "id"]),
    st.sampled_from(["", "1", "-1", "9.5", "1e5", "larger", "target", "x"]) | st.text(max_size=8),
)


@given(st.lists(typed, max_size=6))
def test_whatever_is_typed_makes_a_market_or_one_sentence(changes):
    draft = Draft(MARKET, "us")
    for change in changes:
        draft.put(*change)
    fault = told(draft)
    if fault is None:
        assert stated(draft.lines).parts
    else:
        assert fault.part in {part.id for part in draft.parts}
        assert "\n" not in str(fault)
        assert str(fault).endswith((".", "?"))


def told(draft: Draft) -> DraftFaultError | None:
    try:
        _ = draft.lines
    except DraftFaultError as fault:
        return fault
    return None


def test_a_key_is_a_class_or_a_trait_never_both():
    assert not set(CLASSES) & set(TRAITS)
