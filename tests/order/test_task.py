"""What an order promises, beside closed forms: the newsvendor's with a uniform yield, and the conditional value at risk of a uniform."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.order import Task
from tests.order.orders import made, one_cultivar

UNIFORM = (np.arange(1000) + 0.5) / 1000  # seasons of a yield that is uniform between 0 and 1


@pytest.mark.parametrize("trees", [100.0, 250.0, 1000.0, 4000.0])
def test_the_fill_is_that_of_a_uniform_yield(trees):
    """E min(d, n a) / d = 1 - d / 2n for n >= d, the newsvendor's expected sales with a random yield; exact arithmetic."""
    task = one_cultivar(UNIFORM, wanted=100.0)
    assert task.told(np.array([trees])).fill[0] == pytest.approx(1 - 100 / (2 * trees), abs=1e-4)


def test_the_worst_fifth_is_the_mean_of_the_lowest_fifth_of_a_uniform():
    """The mean of the lowest fifth of U(0, 1) is 0.1; what one tree gives is all sold."""
    task = one_cultivar(UNIFORM, wanted=10.0)
    assert task.told(np.array([1.0])).worst[0] == pytest.approx(0.1 / 10, abs=1e-9)


@given(seed=st.integers(0, 999), at=st.lists(st.floats(0, 6), min_size=6, max_size=6))
def test_a_line_laid_at_one_order_is_never_below_another(seed, at):
    task = made(seed)
    here, there = np.array(at[:3]), np.array(at[3:])
    value, slope = task.cuts(here)
    assert value == pytest.approx(task.promises(task.brought(here)))
    assert (task.promises(task.brought(there)) <= value + slope @ (there - here) + 1e-9).all()


@given(seed=st.integers(0, 999), more=st.integers(0, 2))
def test_one_more_bundle_never_breaks_a_promise(seed, more):
    task, now = made(seed), np.array([2.0, 1.0, 0.0])
    further = now + np.eye(3)[more]
    assert (task.promises(task.brought(further)) >= task.promises(task.brought(now)) - 1e-12).all()


def test_a_week_that_nothing_is_wanted_in_is_met():
    task = made(1).asking(wanted=np.array([50.0, 0.0]))
    assert task.told(np.zeros(3)).fill.tolist() == [0.0, 1.0]


def test_what_no_order_reaches_is_promised_as_far_as_it_goes():
    task = one_cultivar(np.array([0.0, 1.0, 1.0, 1.0]), wanted=10.0)
    assert task.reach[0] == pytest.approx(0.75)
    assert task.promised[0] == pytest.approx(0.9 * 0.75)
    assert task.lowered.fill[0] == pytest.approx(0.95 - 0.9 * 0.75)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"wanted": np.array([-1.0, 5.0])}, "a number of 0 or more"),
        ({"wanted": np.array([np.nan, 5.0])}, "a number of 0 or more"),
        ({"wanted": np.zeros(2)}, "No fruit is wanted"),
        ({"most_trees": 0}, "The land holds no tree"),
        ({"fill": 1.5}, "between 0 and 1"),
        ({"most_share": 0.0}, "between 0 and 1"),
        ({"most_share": 0.25}, "it takes 4 cultivars, and 3 can be ordered"),
        ({"most_share": 0.4, "most_cultivars": 2}, "it takes 3 cultivars, and 2 can be ordered"),
        ({"of": np.array([], dtype=int)}, "No nursery offers"),
    ],
)
def test_what_cannot_be_is_said(changes, said):
    with pytest.raises(ValueError, match=said):
        made(1).asking(**changes)


def test_trees_are_those_of_all_offers_of_a_cultivar():
    task = made(1)
    double = Task(
        task.supply,
        task.wanted,
        np.array([0, 0, 2]),
        task.price,
        np.array([10, 5, 10]),
        task.bundles,
        task.standing,
    )
    assert double.trees(np.array([1, 2, 3])).tolist() == [20, 0, 30]
