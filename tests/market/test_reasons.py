"""Why a cultivar is in or out, in a sentence in the reader's units."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.market import Limit, Market, Wish, fit, judged, reason, reasons
from dashboard.market.verdict import VERDICTS
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF

SIZE = Limit("trait", "size", at_least=2.5 * MM_PER_INCH, share=0.8)
YELLOW = Limit("class", "flesh_colour", ("yellow",))
SWEET = Limit("trait", "sugar", at_least=10.0)


def told(
    limits=(),
    wishes=(),
    *,
    verdict="",
    missed=(),
    least_sure=(None, None),
    by_averages=False,
    score=0.5,
    held_back="",
    held_value=np.nan,
    unread=(),
    system="us",
) -> str:
    row = pd.Series(
        {
            "verdict": verdict or ("misses" if missed else "qualifies"),
            "judged_by_averages": by_averages,
            "least_sure": least_sure,
            "score": score,
            "missed": missed,
            "held_back": held_back,
            "held_value": held_value,
            "unread": unread,
        }
    )
    return reason(Market("m", "M", "", tuple(limits), tuple(wishes)), row, system)


WISH = (Wish("sugar", "larger", 8, 14, 14),)


@pytest.mark.parametrize(
    ("limit", "observed", "system", "sentence"),
    [
        (SIZE, 0.62, "us", "Misses: 62 % of its fruit reach 2.50 in, 80 % wanted"),
        (SIZE, 0.62, "si", "Misses: 62 % of its fruit reach 63.5 mm, 80 % wanted"),
        (SIZE, 0.799, "us", "Misses: 79 % of its fruit reach 2.50 in, 80 % wanted"),
        (SIZE, 0.7999999999, "us", "Misses: 79 % of its fruit reach 2.50 in, 80 % wanted"),
        (SIZE, None, "us", "Misses: no size reading"),
        (YELLOW, "white", "us", "Misses: flesh color is white, yellow wanted"),
        (YELLOW, None, "us", "Misses: flesh color not recorded, yellow wanted"),
        (SWEET, 9.4, "us", "Misses: sugar averages 9.4 °Brix, at least 10.0 wanted"),
        (SWEET, 9.97, "us", "Misses: sugar averages just under 10.0 °Brix, at least 10.0 wanted"),
        (
            Limit("class", "stone", ("free", "semi-free", "cling")),
            None,
            "us",
            "Misses: pit not recorded, free, semi-free or cling wanted",
        ),
        (
            Limit("trait", "firmness", at_most=14 * N_PER_LBF),
            15 * N_PER_LBF,
            "us",
            "Misses: firmness averages 15.0 lb, at most 14.0 wanted",
        ),
        (
            Limit("trait", "firmness", at_least=6 * N_PER_LBF, at_most=14 * N_PER_LBF, share=0.5),
            0.25,
            "us",
            "Misses: 25 % of its fruit have firmness from 6.0 lb to 14.0 lb, 50 % wanted",
        ),
        (
            Limit("trait", "size", at_least=2.375 * MM_PER_INCH, share=0.7),
            0.5,
            "us",
            "Misses: 50 % of its fruit reach 2.375 in, 70 % wanted",
        ),
        (
            Limit("trait", "size", at_least=61.0, share=0.7),
            0.5,
            "us",
            "Misses: 50 % of its fruit reach 2.40 in, 70 % wanted",
        ),
        (
            Limit("trait", "red", at_least=5.0),
            4.2,
            "us",
            "Misses: red skin averages 4.2 of 10, at least 5.0 wanted",
        ),
    ],
)
def test_a_missed_limit_says_what_was_seen_and_what_is_wanted(limit, observed, system, sentence):
    assert told([limit], missed=((limit, observed),), system=system) == sentence


def test_all_missed_limits_are_said():
    missed = ((YELLOW, "white"), (SIZE, 0.62))
    assert told([YELLOW, SIZE], missed=missed) == (
        "Misses: flesh color is white, yellow wanted; 62 % of its fruit reach 2.50 in, 80 % wanted"
    )


@pytest.mark.parametrize("limits", [[], [SIZE], [SIZE, YELLOW, SWEET]])
def test_what_qualifies_hears_its_weakest_point(limits):
    said = told(limits, WISH, held_back="sugar", held_value=10.2)
    assert said == "Qualifies. Weakest point: sugar 10.2 °Brix"


def test_the_other_endings_of_a_sentence_for_what_qualifies():
    assert told([SIZE], WISH) == "Qualifies. Every wish is met in full"
    assert told([SIZE]) == "Qualifies. Every limit holds"
    assert told([]) == "Qualifies. This market sets no limits"
    assert told([SIZE], WISH, score=np.nan, unread=("sugar", "red")).endswith(
        " Not scored, no sugar or red skin reading"
    )
    assert told([SIZE], WISH, score=0.0, held_back="sugar", held_value=7.0).endswith(
        " Scores 0: sugar 7.0 °Brix is outside what this market wants"
    )


def test_what_may_qualify_hears_which_limit_is_the_least_sure():
    assert told([SWEET], verdict="may qualify", least_sure=(SWEET, 10.4)) == (
        "May qualify. Weakest point: sugar averages 10.4 °Brix, at least 10.0 wanted"
    )
    assert told([SIZE], verdict="may qualify", least_sure=(SIZE, 0.8204)) == (
        "May qualify. Weakest point: size, 82 % of its fruit reach 2.50 in, 80 % wanted"
    )
    missed = ((SWEET, 9.4),)
    assert told([SWEET], verdict="may qualify", missed=missed) == (
        "May qualify: sugar averages 9.4 °Brix, at least 10.0 wanted"
    )


def test_what_misses_though_each_average_holds_is_told_so():
    said = told([SIZE, SWEET], verdict="misses")
    assert said == "Misses: each limit holds on average, all of them at once hardly"


def test_where_the_averages_decide_that_is_said():
    assert told([SIZE], by_averages=True) == "Qualifies by its averages. Every limit holds"
    assert told([SWEET], missed=((SWEET, 9.4),), by_averages=True).startswith("Misses by its averages: sugar")


def test_a_missing_reading_is_not_known_and_no_refusal():
    assert told([SWEET], verdict="not known", missed=((SWEET, None),)) == "Not known: no sugar reading"


def test_no_market_gives_no_sentence():
    assert reason(None, pd.Series(dtype=object), "us") == ""


@pytest.mark.parametrize("system", ["us", "si"])
def test_every_cultivar_has_one_sentence_that_agrees_with_its_fit(catalogue, system):
    for market in catalogue.markets.values():
        answer = judged(fit(market, catalogue.cultivars, catalogue.values, catalogue.fruit), None)
        sentences = reasons(market, answer, system)
        assert sentences.index.equals(answer.index)
        for word in VERDICTS:
            assert (sentences.str.startswith(word.capitalize()) == (answer["verdict"] == word)).all()
        assert sentences["T 15-118"] == reason(market, answer.loc["T 15-118"], system)
        assert "no sugar" in sentences["T 15-118"]


def test_a_trait_without_a_unit_is_written_without_one():
    wish = (Wish("roundness", "larger", 0.9, 1.0, 1.0),)
    assert (
        told(wishes=wish, held_back="roundness", held_value=0.951)
        == "Qualifies. Weakest point: roundness 0.95"
    )
