"""Where the search for variances sets out: the answer is the one it comes to from anywhere."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import fit, setting_out


def asked(levels: int = 900, sampled: bool = True) -> dict[str, object]:
    rng = np.random.default_rng(3)
    own, season = np.repeat(np.arange(levels), 4), np.tile(np.arange(4), levels)
    y = 60 + rng.normal(0, 3, levels)[own] + rng.normal(0, 2, 4)[season] + rng.normal(0, 1.5, 4 * levels)
    groups = {"cultivar": np.char.add("C", own.astype(str)), "season": (season, np.ones(len(y)))}
    found: dict[str, object] = {"y": y, "X": pd.DataFrame({"mean": np.ones(len(y))}), "groups": groups}
    return found | ({"n": np.full(len(y), 10.0), "within_ss": 90.0 * len(y)} if sampled else {})


@pytest.mark.parametrize("sampled", [True, False])
def test_many_are_told_as_from_any_other_beginning_and_sooner(monkeypatch, sampled):
    sooner = fit(**asked(sampled=sampled))
    monkeypatch.setattr(setting_out, "MANY", 10**6)
    plain = fit(**asked(sampled=sampled))
    assert sooner.best.iterations < plain.best.iterations
    for part, value in plain.variance.items():
        assert sooner.variance[part] == pytest.approx(value, rel=1e-7)
    assert sooner.effect["cultivar"].to_numpy() == pytest.approx(
        plain.effect["cultivar"].to_numpy(), rel=1e-7, abs=1e-9
    )


def said(levels: int = 900) -> tuple[object, ...]:
    found = asked(levels)
    return (*(found[key] for key in ("y", "X", "groups", "n", "within_ss")), ())


def test_an_eighth_is_near_what_all_say():
    near, found = setting_out.near_by(fit, *said()), fit(**asked())
    assert set(near) == set(found.variance) - {"residual"}
    assert near["cultivar"] == pytest.approx(found.variance["cultivar"] / found.variance["residual"], rel=0.4)


def test_few_levels_and_an_eighth_that_carries_nothing_tell_of_no_beginning():
    def unfitted(*_: object, **__: object) -> None:
        raise ValueError("nothing to tell")

    assert setting_out.near_by(fit, *said(100)) == {}
    assert setting_out.near_by(unfitted, *said()) == {}
