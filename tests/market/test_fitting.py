"""Who clears the limits of a market, and what each scores."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.market import Limit, Market, Wish, fit, neutral, read_market

CLASSES = pd.read_csv(Path(__file__).parents[1] / "reference" / "diameter_classes.csv")


def market(*parts: Limit | Wish) -> Market:
    limits = tuple(part for part in parts if isinstance(part, Limit))
    return Market("m", "M", "", limits, tuple(part for part in parts if isinstance(part, Wish)))


def cultivars(names: list[str], **columns: list) -> pd.DataFrame:
    return pd.DataFrame(columns, index=pd.Index(names, name="cultivar"))


def means(names: list[str], **traits: list[float]) -> dict[str, pd.DataFrame]:
    index = pd.Index(names, name="cultivar")
    return {
        trait: pd.DataFrame({"estimate": values}, index=index, dtype=float)
        for trait, values in traits.items()
    }


def fruit(**by_cultivar: list[float]) -> pd.DataFrame:
    rows = [(name, size) for name, sizes in by_cultivar.items() for size in sizes]
    return pd.DataFrame(rows, columns=["cultivar", "size"])


NO_FRUIT = fruit()
LARGE = Limit("trait", "size", at_least=63.5, share=0.8)


def test_a_share_limit_looks_at_the_fruit_and_not_at_the_mean():
    some = fruit(Even=[64.0] * 8 + [60.0] * 2, Uneven=[90.0] * 7 + [60.0] * 3)
    answer = fit(market(LARGE), cultivars(["Even", "Uneven"]), {}, some)
    assert answer["by_averages"].tolist() == [True, False]
    assert answer.loc["Uneven", "missed"] == ((LARGE, 0.7),)
    assert answer.loc["Even", "missed"] == ()


def test_fruit_that_was_not_measured_does_not_count_in_the_share():
    answer = fit(market(LARGE), cultivars(["A"]), {}, fruit(A=[64, 64, 64, 64, 60, np.nan, np.nan]))
    assert answer.loc["A", "by_averages"]


def test_a_share_asked_for_in_seasons_is_counted_in_each():
    """Ten fruit a season: all, all, all and half of them large. 8 seasons of 10 is all four of four, 7 of 10 three."""
    seen = fruit(A=[64.0] * 35 + [60.0] * 5).assign(season=np.repeat([2020, 2021, 2022, 2023], 10))
    for seasons, share in ((8.0, 0.5), (7.5, 1.0), (7.0, 1.0)):
        limit = replace(LARGE, seasons=seasons)
        answer = fit(market(limit), cultivars(["A", "Unread"]), {}, seen)
        assert answer.loc["A", "seen"] == (share,)
        assert answer.loc["A", "by_averages"] == (share >= 0.8)
        assert answer.loc["Unread", "seen"] == (None,)
    assert fit(market(LARGE), cultivars(["A"]), {}, seen).loc["A", "seen"] == (35 / 40,)


def test_a_limit_without_a_share_looks_at_the_mean_and_includes_its_ends():
    sweet = Limit("trait", "sugar", at_least=10.0, at_most=14.0)
    names = ["Under", "From", "To", "Over", "Unread"]
    answer = fit(market(sweet), cultivars(names), means(names, sugar=[9.99, 10, 14, 14.01, np.nan]), NO_FRUIT)
    assert answer["by_averages"].tolist() == [False, True, True, False, False]
    assert answer.loc["Under", "missed"] == ((sweet, 9.99),)
    assert answer.loc["Unread", "missed"] == ((sweet, None),)


def test_a_class_limit_takes_any_of_its_words_and_an_unknown_class_is_out():
    warm = Limit("class", "flesh_colour", ("yellow", "red"))
    known = cultivars(["A", "B", "C", "D"], flesh_colour=["yellow", "red", "white", "not recorded"])
    answer = fit(market(warm), known, {}, NO_FRUIT)
    assert answer["by_averages"].tolist() == [True, True, False, False]
    assert answer["missed"].tolist()[2:] == [((warm, "white"),), ((warm, None),)]


@pytest.mark.parametrize("row", list(CLASSES.itertuples()), ids=lambda row: f"{row.scale} {row._2}")
def test_the_lower_end_of_a_diameter_class_belongs_to_it(row, tmp_path):
    profile = tmp_path / "class.toml"
    profile.write_text(
        f'name = "Class"\n[[limit]]\ntrait = "size"\nat_least = {row.written}\nunit = "{row.unit}"\nshare = 1.0\n'
    )
    sizes = fruit(At=[row.lower_mm], Under=[row.lower_mm - 0.01])
    answer = fit(read_market(profile), cultivars(["At", "Under"]), {}, sizes)
    assert answer["by_averages"].tolist() == [True, False]


def test_a_mean_that_equals_its_bound_but_for_the_last_bit_clears_it():
    thirds = 0.1 + 0.2  # 0.30000000000000004
    at_most = Limit("trait", "roundness", at_most=0.3)
    assert fit(market(at_most), cultivars(["A"]), means(["A"], roundness=[thirds]), NO_FRUIT)[
        "by_averages"
    ].all()


def test_a_cultivar_out_by_a_limit_still_has_its_score():
    wish = Wish("sugar", "larger", 8, 12, 12)
    known = cultivars(["A"], flesh_colour=["white"])
    answer = fit(
        market(Limit("class", "flesh_colour", ("yellow",)), wish), known, means(["A"], sugar=[10]), NO_FRUIT
    )
    assert not answer.loc["A", "by_averages"]
    assert answer.loc["A", "score"] == pytest.approx(0.5)


def test_the_wish_that_costs_the_score_most_is_named_by_weight_too():
    light, heavy = Wish("sugar", "larger", 8, 12, 12, 1.0), Wish("size", "larger", 50, 70, 70, 5.0)
    names = ["A", "B", "C"]
    values = means(names, sugar=[9, 9, 12], size=[65, 70, 80])
    answer = fit(market(light, heavy), cultivars(names), values, NO_FRUIT)
    assert answer["held_back"].tolist() == ["size", "sugar", ""]  # A: 5·ln(4/3) > ln 4
    assert answer["held_value"].tolist()[:2] == [65, 9]
    assert np.isnan(answer.loc["C", "held_value"])


def test_a_wish_without_a_reading_leaves_the_score_open_and_is_named():
    wishes = (Wish("sugar", "larger", 8, 12, 12), Wish("size", "larger", 50, 70, 70))
    answer = fit(market(*wishes), cultivars(["A"]), means(["A"], sugar=[np.nan], size=[60]), NO_FRUIT)
    assert np.isnan(answer.loc["A", "score"])
    assert answer.loc["A", "unread"] == ("sugar",)


def test_a_market_without_limits_takes_everyone_and_one_without_wishes_scores_nobody():
    names = ["A", "B"]
    assert fit(
        market(Wish("sugar", "larger", 8, 12, 12)), cultivars(names), means(names, sugar=[7, 9]), NO_FRUIT
    )["by_averages"].all()
    assert (
        fit(
            market(Limit("trait", "sugar", at_least=8)),
            cultivars(names),
            means(names, sugar=[7, 9]),
            NO_FRUIT,
        )["score"]
        .isna()
        .all()
    )


def test_no_market_is_neutral_with_the_same_columns(catalogue):
    nobody_asked = neutral(catalogue.cultivars)
    asked = fit(catalogue.markets["packer"], catalogue.cultivars, catalogue.values, catalogue.fruit)
    assert nobody_asked.columns.tolist() == asked.columns.tolist()
    assert nobody_asked["by_averages"].all()
    assert nobody_asked["score"].isna().all()


def test_no_cultivars_give_no_rows():
    parts = (LARGE, Limit("class", "stone", ("free",)), Wish("sugar", "larger", 8, 12, 12))
    assert fit(market(*parts), cultivars([], stone=[]), means([], sugar=[]), NO_FRUIT).empty


def test_the_order_of_the_cultivars_does_not_matter(catalogue):
    profile = catalogue.markets["packer"]
    forwards = fit(profile, catalogue.cultivars, catalogue.values, catalogue.fruit)
    backwards = fit(profile, catalogue.cultivars[::-1], catalogue.values, catalogue.fruit)
    pd.testing.assert_frame_equal(forwards, backwards[::-1])


def test_names_as_categories_and_as_text_give_the_same_shares(catalogue):
    as_text = catalogue.fruit.assign(cultivar=catalogue.fruit["cultivar"].astype("str"))
    profile = catalogue.markets["packer"]
    pd.testing.assert_frame_equal(
        fit(profile, catalogue.cultivars, catalogue.values, as_text),
        fit(profile, catalogue.cultivars, catalogue.values, catalogue.fruit),
    )


@given(st.floats(0, 20), st.floats(0, 5), st.floats(40, 90))
def test_sweeter_fruit_never_lowers_the_score_or_puts_a_cultivar_out(sugar, more, size):
    profile = market(
        Limit("trait", "sugar", at_least=10.0),
        Wish("sugar", "larger", 8, 14, 14, 2.0),
        Wish("size", "target", 50, 65, 80),
    )
    names = ["Less", "More"]
    answer = fit(
        profile, cultivars(names), means(names, sugar=[sugar, sugar + more], size=[size] * 2), NO_FRUIT
    )
    assert answer.loc["More", "score"] >= answer.loc["Less", "score"] - 1e-12
    assert answer.loc["More", "by_averages"] >= answer.loc["Less", "by_averages"]


@given(st.lists(st.floats(40, 90), min_size=1, max_size=20), st.floats(0, 10))
def test_a_lower_bound_never_puts_a_cultivar_out(sizes, easier):
    strict, easy = LARGE, Limit("trait", "size", at_least=63.5 - easier, share=0.8)
    answers = [
        fit(market(limit), cultivars(["A"]), {}, fruit(A=sizes))["by_averages"].item()
        for limit in (strict, easy)
    ]
    assert answers[1] >= answers[0]
