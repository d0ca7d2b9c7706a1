"""What is declared once for a data set, and what is said of a declaration that cannot be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.records import descriptor
from dashboard.records.declaration import Declaration, Scale, declared
from dashboard.records.schema import RATINGS
from dashboard.records.sheets import Source


def of(about: dict | None):
    return declared(Source(about=about))


def test_everything_declared_is_taken():
    declaration, problems = of(
        {
            "title": "Trials", "region": "Nowhere", "invented": True, "tip_mm": 7.9375, "temperature_compensated": False,
            "full_bloom_open_pct": 90, "ratings": {"fuzz": {"low": 1, "high": 9, "best": 1}}, "seasons": [2018, 2025],
            "currency": "usd",
        }
    )  # fmt: skip
    assert problems == []
    assert declaration == Declaration(
        "Trials",
        "Nowhere",
        True,
        7.9375,
        False,
        90,
        {name: Scale() for name in RATINGS} | {"fuzz": Scale(1, 9, 1)},
        (2018, 2025),
        currency="USD",
    )


def test_a_workbook_says_the_same_in_items_of_text():
    declaration, problems = of(
        {
            "title": "Trials", "invented": "yes", "tip_mm": "8", "temperature_compensated": "no", "full_bloom_open_pct": "90",
            "fuzz_low": "1", "fuzz_high": "9", "fuzz_best": "1", "first_season": "2018", "last_season": "2025",
        }
    )  # fmt: skip
    assert problems == []
    assert declaration.ratings["fuzz"] == Scale(1, 9, 1)
    assert declaration.seasons == (2018, 2025)
    assert (declaration.invented, declaration.temperature_compensated) == (True, False)


def test_only_the_ends_of_a_scale_may_be_given_and_the_high_one_is_best():
    assert of({"ratings": {"shape": {"low": 1, "high": 5}}})[0].ratings["shape"] == Scale(1, 5, 5)


@pytest.mark.parametrize(
    "scale", [{"low": 5, "high": 5}, {"low": 9, "high": 1}, {"best": 5}, {"low": "a"}, 7, {"high": True}]
)
def test_a_scale_that_cannot_be_understood_refuses_its_rating_rather_than_guess(scale):
    declaration, problems = of({"ratings": {"shape": scale}})
    assert [(problem.severity, problem.column) for problem in problems] == [("error", "ratings.shape")]
    assert declaration.refusal("shape") is not None
    assert declaration.refusal("fuzz") is None


@pytest.mark.parametrize(
    "about",
    [{"tip_mm": "thick"}, {"tip_mm": -8}, {"tip_mm": True}, {"tip_mm": float("nan")}, {"tip_mm": []}, {"invented": "perhaps"}, {"full_bloom_open_pct": 0}, {"ratings": 3}, {"seasons": 2024},
     {"seasons": [2025, 2018]}, {"seasons": [2018]}, {"seasons": ["a", "b"]}, {"seasons": [2018.5, 2020]}, {"first_season": "2018"}, {"seasons": [1, 2]}],
)  # fmt: skip
def test_what_is_declared_wrongly_is_told_and_taken_as_usual(about):
    declaration, problems = of(about)
    assert [problem.severity for problem in problems] == ["error"]
    assert declaration == Declaration()


def test_nothing_declared_is_flagged_once_and_taken_as_usual():
    for said in (None, {}, {"title": ""}):
        declaration, problems = of(said)
        assert [problem.severity for problem in problems] == ["flag"]
        assert declaration == Declaration()


@pytest.mark.parametrize("scale", [Scale(0, 10, 10), Scale(1, 9, 1), Scale(-2, 2, 2), Scale(0, 100, 0)])
@given(share=st.floats(0, 1))
def test_any_scale_is_mapped_onto_0_to_10_with_the_best_end_at_10(scale, share):
    assert scale.mapped(scale.best) == 10
    assert scale.mapped(scale.low + scale.high - scale.best) == 0
    assert -1e-9 <= scale.mapped(scale.low + share * (scale.high - scale.low)) <= 10 + 1e-9


@pytest.mark.parametrize("written", ["$", "dollars", "US", 840])
def test_a_currency_is_its_three_letters_or_is_not_stated(written):
    declaration, (problem,) = of({"title": "T", "currency": written})
    assert declaration.currency == ""
    assert (problem.severity, problem.column, problem.value) == ("error", "currency", str(written))
    assert "USD" in problem.suggestion


def test_what_is_declared_of_the_money_is_written_again():
    assert of(descriptor.about(Declaration(title="T", currency="USD")))[0].currency == "USD"
    assert "currency" not in descriptor.about(Declaration())
