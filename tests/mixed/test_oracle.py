"""Unbalanced data fitted by another program, mixedlm (PyPI, MIT), in the same run."""

from __future__ import annotations

import mixedlm
import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import fit
from tests.simulate import simulate

FORMULA = "y ~ pick + (1|cultivar) + (1|cy) + (1|env) + (1|sample)"


def _trial(size: str, seed: int) -> tuple[pd.DataFrame, list[str]]:
    made = simulate(size, "sugar", seed)
    fruit = made.fruit_frame
    fruit["sample"] = fruit.groupby(["csy", "pick"]).ngroup()
    terms = ["cultivar", "cy", "env", "sample"]
    if size != "S":
        terms.insert(1, "cs")
        keep = fruit["cultivar"] % 2 == 0  # half the cultivars: the other program takes its time
        fruit = fruit[keep].reset_index(drop=True)
    return fruit.astype(dict.fromkeys(terms, str)), terms


@pytest.mark.parametrize(("size", "seed"), [("S", 3), ("S", 4), ("H", 5)])
def test_unbalanced_trials_agree_with_another_program(size, seed):
    fruit, terms = _trial(size, seed)
    formula = "y ~ pick + " + " + ".join(f"(1|{term})" for term in terms)
    theirs = mixedlm.lmer(formula, data=fruit, REML=True)
    X = pd.DataFrame({"(Intercept)": 1.0, "pick": fruit["pick"].astype(float)})
    ours = fit(fruit["y"], X, {term: fruit[term] for term in terms})
    assert ours.criterion == pytest.approx(theirs.REMLcrit(), rel=0, abs=1e-4)
    assert ours.criterion < theirs.REMLcrit() + 1e-6  # ours is never the worse optimum
    # The other program stops at about four digits of the weaker variances.
    for name, value in theirs.fixef().items():
        assert ours.beta[name] == pytest.approx(value, rel=1e-4)
    conditional = theirs.ranef(condVar=True)
    levels = ours.effect["cultivar"].index
    spread = np.sqrt(conditional.condVar["cultivar"]["(Intercept)"])
    np.testing.assert_allclose(
        ours.effect["cultivar"],
        conditional.values["cultivar"]["(Intercept)"],
        atol=2e-3 * ours.effect["cultivar"].std(),
    )
    np.testing.assert_allclose(ours.effect_sd["cultivar"][levels], spread, rtol=2e-3)
