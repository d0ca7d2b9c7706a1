"""What cannot be fitted is refused in one sentence."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import fit
from dashboard.mixed.design import checked, main_term

Y = np.array([1.0, 2.0, 4.0, 3.0, 5.0, 7.0, 6.0, 9.0])
ONES = np.ones((8, 1))
PAIRS = ["a", "a", "b", "b", "c", "c", "d", "d"]
HALVES = ["u", "v"] * 4

REFUSED = {
    "is missing or infinite at record 2": {"y": np.where(np.arange(8) == 2, np.nan, Y)},
    "X is missing or infinite at record 0": {"X": np.full((8, 1), np.inf)},
    "X has 7 rows but y has 8": {"X": pd.DataFrame({"one": np.ones(7)})},
    "X has 2 rows but y has 8": {"X": np.ones((2, 8))},
    "one column a fixed effect, not shape": {"X": np.ones((8, 1, 1))},
    "'pair' has 7 labels but y has 8": {"groups": {"pair": PAIRS[:7]}},
    "no label at record 3": {"groups": {"pair": [*PAIRS[:3], None, *PAIRS[4:]]}},
    "one level only": {"groups": {"pair": ["a"] * 8}},
    "one record a level, so it cannot be told from the residual": {"groups": {"pair": list("abcdefgh")}},
    "split the records alike": {"groups": {"pair": PAIRS, "twin": [label.upper() for label in PAIRS]}},
    "Every value of y is the same": {"y": np.full(8, 3.0)},
    "rank 2; leave out": {"X": np.column_stack([np.ones(8), np.arange(8.0), np.arange(8.0) + 1])},
    "is zero throughout": {"X": np.column_stack([np.ones(8), np.zeros(8)])},
    "explain every record exactly, so there is no variation": {"X": np.column_stack([np.ones(8), Y])},
    "so there is no residual variance": {"y": np.repeat([1.0, 4.0, 2.0, 7.0], 2)},
    "n has 7 rows": {"n": np.full(7, 2.0), "within_ss": 1.0},
    "must be at least 1; record 5": {"n": np.where(np.arange(8) == 5, 0.5, 2.0), "within_ss": 1.0},
    "Every record has one fruit": {"n": np.ones(8), "within_ss": 0.0},
    "no variation within samples": {"n": np.full(8, 3.0), "within_ss": 0.0},
    "needs n, the number of fruit": {"within_ss": 2.0},
    "cannot be -1": {"n": np.full(8, 3.0), "within_ss": -1.0},
    "'row' is declared fixed but is not among the groups": {"fixed": "row"},
    "names a variance of its own": {"groups": {"residual": PAIRS}},
    "y must be numbers": {"y": ["x"] * 8},
    "The covariate of 'pair' is zero": {"groups": {"pair": (PAIRS, np.zeros(8))}},
    "repeats a column of X": {"groups": {"half": HALVES, "pair": PAIRS}, "fixed": "half"},
    "leave nothing of 8 observations": {"X": np.vander(np.linspace(0, 1, 8), 8)},
    "'row' is held but is not one of the variances": {"held": {"row": 1.0}},
    "a ratio of variances is a number from 0 up": {"held": {"pair": -1.0}},
}


@pytest.mark.parametrize("sentence", REFUSED)
def test_what_cannot_be_fitted_is_refused_in_one_sentence(sentence):
    asked = {"y": Y, "X": ONES, "groups": {"pair": PAIRS}} | REFUSED[sentence]
    with pytest.raises(ValueError, match=sentence) as caught:
        fit(**asked)
    assert type(caught.value) is ValueError
    assert "\n" not in str(caught.value)


def test_one_observation_is_refused():
    with pytest.raises(ValueError, match="at least two records"):
        fit([1.0], [[1.0]], {"pair": ["a"]})


def test_disconnected_fixed_levels_are_refused():
    """Two halves of a trial that share nothing: their fixed levels cannot be compared."""
    side = np.repeat([0.0, 1.0], 4)
    with pytest.raises(ValueError, match="never seen together"):
        fit(Y, np.column_stack([side]), {"pair": PAIRS, "half": HALVES}, fixed=("pair",))


def test_the_main_factor_leaves_the_narrowest_border():
    cultivar = np.repeat(np.arange(20), 6)
    env = np.tile(np.arange(6), 20)
    groups = {"env": env, "cell": cultivar * 3 + env // 2, "cultivar": cultivar}
    records = checked(np.random.default_rng(0).normal(size=120), np.ones((120, 1)), groups)
    main, local, crossing = main_term(records.terms)
    assert main is not None
    assert main.name == "cultivar"
    assert {term.name for term in local} == {"cell", "cultivar"}
    assert [term.name for term in crossing] == ["env"]


def test_labels_of_any_kind_are_kept_as_they_are():
    for labels in (PAIRS, pd.Categorical(PAIRS), pd.Series(PAIRS, dtype="str"), np.repeat([4, 2, 9, 7], 2)):
        ours = fit(Y, ONES, {"pair": labels})
        assert sorted(ours.effect["pair"].index) == sorted(set(labels))


def test_a_single_column_may_be_given_flat():
    assert fit(Y, np.ones(8), {"pair": PAIRS}).beta.to_dict() == fit(Y, ONES, {"pair": PAIRS}).beta.to_dict()
