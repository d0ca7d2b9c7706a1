"""A programme of ten years is fitted while a reader waits, and one of twenty in the time a cup takes to fill."""

from __future__ import annotations

import time
import tracemalloc

import numpy as np
import pandas as pd
import pytest

from dashboard.mixed import Fit, fit
from tests.simulate import Simulated, simulate

TERMS = ("cultivar", "cs", "cy", "csy", "env")


def _fitted(made: Simulated) -> tuple[Fit, float]:
    """The fit with the errors of all effects and of every cultivar's value, and the processor seconds it took."""
    d = made.samples
    X = pd.DataFrame({"one": 1.0, "pick": d["pick"].astype(float)})
    start = time.process_time()
    ours = fit(d["mean"], X, {name: d[name] for name in TERMS}, n=d["n"], within_ss=made.within_ss)
    values = ours.predict([1.0, 0.0], {"cultivar": ours.effect["cultivar"].index})
    assert np.isfinite(values.variance).all()
    assert all((ours.effect_sd[name] <= ours.effect_se[name] * (1 + 1e-9)).all() for name in TERMS)
    return ours, time.process_time() - start


def test_350_cultivars_over_10_years_take_well_under_a_second():
    made = simulate("M", "size", 1)
    assert len(made.samples) > 4500
    runs = [_fitted(made) for _ in range(3)]
    assert runs[0][0].converged
    assert min(seconds for _, seconds in runs) < 1.0


@pytest.mark.slow
def test_2000_cultivars_over_20_years_take_seconds_and_little_memory():
    middle, large = simulate("M", "size", 1), simulate("L", "size", 1)
    assert len(large.samples) > 40_000
    short = min(_fitted(middle)[1] for _ in range(3))
    ours, long = _fitted(large)
    assert ours.converged
    assert long < 20 * max(short, 0.3)
    tracemalloc.start()
    _fitted(large)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 500e6
