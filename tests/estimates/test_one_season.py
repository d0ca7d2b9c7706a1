"""From one season to the long run with a borrowed ratio."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.estimates import worth
from dashboard.estimates.one_season import long_run
from dashboard.estimates.plan import CULTIVAR
from tests.estimates.trials import trial

SIZE = {
    "cultivar": 0.20,
    "site": 0.06,
    "season": 0.08,
    "cell": 0.07,
    "sample": 0.06,
}  # SDs of a made-up trait


@pytest.fixture(scope="module")
def one():
    return worth(trial(20, 1, 1), "size")


def test_the_formula_of_the_docstring(one):
    found, r = long_run(one, 0.4), 0.4
    values = one.values
    assert found["estimate"].to_numpy() == pytest.approx(
        (one.usual + (values["estimate"] - one.usual) / (1 + r)).to_numpy()
    )
    variance = values["se"] ** 2 / (1 + r) ** 2 + one.variance[CULTIVAR] * r / (1 + r) ** 2
    assert found["se"].to_numpy() == pytest.approx(np.sqrt(variance).to_numpy())
    assert "0.4" in found.attrs["given"]


def test_no_luck_of_the_season_changes_nothing(one):
    numbers = ["estimate", "se", "low", "high"]
    assert long_run(one, 0)[numbers].to_numpy() == pytest.approx(one.values[numbers].to_numpy())


@pytest.mark.parametrize("ratio", [-0.1, np.nan, np.inf, "much"])
def test_a_ratio_that_is_none_is_refused(one, ratio):
    with pytest.raises(ValueError, match=rf"^The ratio {ratio!r} is not a number from 0 up\.$"):
        long_run(one, ratio)


def test_several_seasons_need_no_borrowing():
    said = "These records show how much seasons count, so no borrowed ratio is needed."
    with pytest.raises(ValueError, match=f"^{said}$"):
        long_run(worth(trial(12, 1, 3), "size"), 0.3)


def test_without_a_model_the_reason_is_told():
    none = worth(trial().drop_duplicates("cultivar").reset_index(drop=True), "size")
    with pytest.raises(ValueError, match="one sample"):
        long_run(none, 0.3)


def test_the_interval_holds_with_the_right_ratio_and_is_far_too_narrow_without():
    """One site, one season, drawn with SDs of cultivar .20, by site .06, by season .08, in a cell .07, sample .06."""
    rng, held, naive, count = np.random.default_rng(17), 0, 0, 0
    lasting = SIZE["cultivar"] ** 2 + SIZE["site"] ** 2
    luck = SIZE["season"] ** 2 + SIZE["cell"] ** 2
    for seed in range(30):
        frame = trial(60, 1, 1, 2, seed=seed)
        true = 60 + 10 * rng.normal(0, np.sqrt(lasting), 60)
        now = true + 10 * rng.normal(0, np.sqrt(luck), 60)
        code = frame["cultivar"].str[1:].astype(int)
        frame = frame.assign(
            size=now[code] + 10 * rng.normal(0, np.hypot(SIZE["sample"], 0.05), len(frame)), pick=1.0
        )
        found = worth(frame.drop(columns=["size_n", "size_ss"]), "size")
        fair = long_run(found, luck / lasting)
        held += ((fair["low"] <= true) & (true <= fair["high"])).sum()
        naive += ((found.values["low"] <= true) & (true <= found.values["high"])).sum()
        count += 60
    assert 0.87 <= held / count <= 0.93
    assert naive / count < 0.75
