"""Why a cultivar is in or out, in a sentence in the reader's units."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.market import Limit, Market, Wish, fit, reason, reasons
from dashboard.units import MM_PER_INCH, N_PER_LBF

SIZE = Limit("trait", "size", at_least=2.5 * MM_PER_INCH, share=0.8)
YELLOW = Limit("class", "flesh_colour", ("yellow",))
SWEET = Limit("trait", "sugar", at_least=10.0)


def told(
    limits=(), wishes=(), *, missed=(), score=0.5, held_back="", held_value=np.nan, unread=(), system="us"
) -> str:
    row = pd.Series(
        {
            "meets": not missed,
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
        (SIZE, 0.62, "us", "Out: 62 % of its fruit reach 2.50 in, 80 % wanted"),
        (SIZE, 0.62, "si", "Out: 62 % of its fruit reach 63.5 mm, 80 % wanted"),
        (SIZE, 0.799, "us", "Out: 79 % of its fruit reach 2.50 in, 80 % wanted"),
        (SIZE, 0.7999999999, "us", "Out: 79 % of its fruit reach 2.50 in, 80 % wanted"),
        (SIZE, None, "us", "Out: no size reading"),
        (YELLOW, "white", "us", "Out: flesh colour is white, yellow wanted"),
        (YELLOW, None, "us", "Out: flesh colour not recorded, yellow wanted"),
        (SWEET, 9.4, "us", "Out: sugar averages 9.4 °Brix, at least 10.0 wanted"),
        (SWEET, 9.97, "us", "Out: sugar averages just under 10.0 °Brix, at least 10.0 wanted"),
        (
            Limit("class", "stone", ("free", "semi-free", "cling")),
            None,
            "us",
            "Out: stone not recorded, free, semi-free or cling wanted",
        ),
        (
            Limit("trait", "firmness", at_most=14 * N_PER_LBF),
            15 * N_PER_LBF,
            "us",
            "Out: firmness averages 15.0 lbf, at most 14.0 wanted",
        ),
        (
            Limit("trait", "firmness", at_least=6 * N_PER_LBF, at_most=14 * N_PER_LBF, share=0.5),
            0.25,
            "us",
            "Out: 25 % of its fruit have firmness from 6.0 lbf to 14.0 lbf, 50 % wanted",
        ),
        (
            Limit("trait", "size", at_least=2.375 * MM_PER_INCH, share=0.7),
            0.5,
            "us",
            "Out: 50 % of its fruit reach 2.375 in, 70 % wanted",
        ),
        (
            Limit("trait", "size", at_least=61.0, share=0.7),
            0.5,
            "us",
            "Out: 50 % of its fruit reach 2.40 in, 70 % wanted",
        ),
        (
            Limit("trait", "red", at_least=5.0),
            4.2,
            "us",
            "Out: red skin averages 4.2 of 10, at least 5.0 wanted",
        ),
    ],
)
def test_a_missed_limit_says_what_was_seen_and_what_is_wanted(limit, observed, system, sentence):
    assert told([limit], missed=((limit, observed),), system=system) == sentence


def test_all_missed_limits_are_said():
    missed = ((YELLOW, "white"), (SIZE, 0.62))
    assert told([YELLOW, SIZE], missed=missed) == (
        "Out: flesh colour is white, yellow wanted; 62 % of its fruit reach 2.50 in, 80 % wanted"
    )


@pytest.mark.parametrize(
    ("limits", "opening"),
    [
        ([], "In: this market sets no limits; "),
        ([SIZE], "In: "),
        ([SIZE, YELLOW, SWEET], "In: "),
    ],
)
def test_who_is_in_hears_what_holds_it_back(limits, opening):
    assert (
        told(limits, WISH, held_back="sugar", held_value=10.2)
        == f"{opening}of the wishes, sugar (10.2 °Brix) is met least"
    )


def test_the_other_endings_of_a_sentence_for_who_is_in():
    assert told([SIZE], WISH) == "In: every wish is met in full"
    assert told([SIZE]) == "In: clears every limit"
    assert told([SIZE], WISH, score=np.nan, unread=("sugar", "red")).endswith(
        " not scored, no sugar or red skin reading"
    )
    assert told([SIZE], WISH, score=0.0, held_back="sugar", held_value=7.0).endswith(
        " scores 0, sugar (7.0 °Brix) is outside what this market wants"
    )


def test_no_market_gives_no_sentence():
    assert reason(None, pd.Series(dtype=object), "us") == ""


@pytest.mark.parametrize("system", ["us", "si"])
def test_every_cultivar_has_one_sentence_that_agrees_with_its_fit(catalogue, system):
    for market in catalogue.markets.values():
        answer = fit(market, catalogue.cultivars, catalogue.values, catalogue.fruit)
        sentences = reasons(market, answer, system)
        assert sentences.index.equals(answer.index)
        assert (sentences.str.startswith("In: ") == answer["meets"]).all()
        assert sentences.str.startswith(("In: ", "Out: ")).all()
        assert sentences["T 15-118"] == reason(market, answer.loc["T 15-118"], system)
        assert "no sugar" in sentences["T 15-118"]
