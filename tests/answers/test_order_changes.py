"""What would change an order: each figure is that of an order that keeps the same promises, or of all the money."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers import order_changes
from dashboard.answers.demand import each_week
from dashboard.answers.order_changes import changes
from dashboard.answers.ordered import Order, settled
from dashboard.answers.ordering import OrderWanted
from dashboard.wording.order_changes import changed_told

NAMES = ("Rusvet", "Mulvet", "Quaskel")
MORE = (*NAMES, "Hulvik", "Kestalune")


@pytest.fixture(autouse=True)
def _brief(monkeypatch):
    monkeypatch.setattr(order_changes, "SECONDS", 1.0)


@pytest.fixture(scope="module")
def wanted(demo) -> OrderWanted:
    return OrderWanted(demo, demo.markets["roadside_stand"], each_week("500 lb", "Jun 20", "Jul 10"), NAMES)


@pytest.fixture(scope="module")
def order(wanted) -> Order:
    return settled(replace(wanted, names=MORE, worst=0.24), 3.0, 0.02)


def test_a_cultivar_fewer_costs_what_an_order_of_the_others_costs(order):
    fewer = changes(order).fewer
    others = tuple(name for name in MORE if name != fewer.name)
    task = order.found.task
    free = np.isin(task.of, [order.wanted.candidates.index(name) for name in others])
    assert fewer.cost >= order.found.cost * (1 - order.found.gap) - 1e-6
    assert task.keeps(np.where(free, task.useful, 0).astype(float))
    said = dict(changed_told(order))["One cultivar fewer"]
    assert fewer.name in said


def test_where_each_is_needed_that_is_said(wanted):
    alone = replace(wanted, names=NAMES[:1])
    found = settled(alone, 2.0, 0.05)
    assert changes(found).fewer.name is None
    assert "the rest cannot keep these promises" in dict(changed_told(found))["One cultivar fewer"]


def test_an_acre_more_keeps_more_where_land_lacks(wanted):
    found = settled(replace(wanted, acres=0.3), 3.0)
    assert found.short is not None
    assert changes(found).acre > found.short.part
    assert "in place of" in dict(changed_told(found))["One acre more"]


def test_more_money_brings_more_fruit(wanted):
    found = settled(replace(wanted, as_much=True, money=600.0, acres=5.0), 3.0)
    assert found.found.cost <= 600
    assert changes(found).money > found.found.met
    told = dict(changed_told(found))
    assert "in place of" in told["A tenth more money"]
    assert "something else is lacking" in told["One acre more"]


@pytest.mark.slow
def test_another_order_that_is_nearly_as_cheap_shares_few_trees(demo, monkeypatch):
    monkeypatch.setattr(order_changes, "SECONDS", 60.0)  # it ends by itself, however busy the machine is
    # Of these weeks one is found; of some others none costs as little.
    every = OrderWanted(demo, demo.markets["roadside_stand"], each_week("500 lb", "Jul 1", "Jul 21"))
    found = settled(every, 60.0, 0.5)
    other = changes(found).alike
    assert other.cost <= 1.02 * found.found.cost
    assert set(other.come).isdisjoint(found.rows["cultivar"])
    assert set(other.left) <= set(found.rows["cultivar"])
    assert 0 <= other.common < 1


def test_nothing_is_worked_out_of_an_order_that_was_stopped(order, wanted):
    assert changed_told(Order(wanted, order.found, hurried=True)) == []
