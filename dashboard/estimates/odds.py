"""Shares of fruit, fitted by log odds.

A share y of n fruit is taken as of log odds x, about which shares have the mean p = 1 / (1 + exp(-x)) and the variance s p (1 - p) / n:
s is 1 for fruit that are faulty independently of each other, more where faults come in clusters. Near the log odds x0 that cultivar and
site-season let expect of the sample, the share is as good as the reading

    x0 + (y - p0) / (p0 (1 - p0)),      known as by n p0 (1 - p0) fruit of variance s

of x itself (quasi-likelihood: Breslow & Clayton 1993, JASA 88: 9-25). So the mixed model is fitted to such readings, and gives a
better x0, until these stay. None or all of ten fruit needs no number put in its place. What a cultivar does at one site or in one season
alone is no part of x0: of ten fruit it cannot be seen, and the mean share is then that of all its sites and seasons.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import special

from dashboard.estimates.plan import CULTIVAR, ENVIRONMENT, RESIDUAL
from dashboard.estimates.scale import bounds
from dashboard.estimates.trial import Trial
from dashboard.mixed import Fit, Patterns, UnfittedError, fit

_ROUNDS, _EACH = 13, 4  # fits, and every how many the spreads are searched for anew
_STILL = 0.05  # log odds: no reading moves any further
_FARTHEST = 7.0  # log odds: one fruit in a thousand
_LENT = 20.0  # fruit of the usual share that are lent to each cultivar and site-season for the first x0


@dataclass(frozen=True, eq=False)
class FittedOdds:
    fit: Fit
    known: float  # n p (1 - p) of the usual sample
    fruit: int  # of it
    alike: float  # correlation of two of its fruit


def fitted_odds(trial: Trial, off_zero: tuple[str, ...], patterns: Patterns | None = None) -> FittedOdds:
    """The mixed model of log odds; ValueError where the records do not carry it."""
    read, top = trial.read, bounds(trial.read.trait)[1]
    share, fruit = read.y / top, read.judged
    usual = float(np.average(share, weights=fruit))
    x = np.full(len(share), special.logit(usual))
    for by in (read.cultivar, read.environment):
        faulty, seen = (np.bincount(by, what) for what in (share * fruit, fruit))
        x += (special.logit((faulty + _LENT * usual) / (seen + _LENT)) - special.logit(usual))[by]
    lasting = {part: trial.groups[part] for part in (CULTIVAR, ENVIRONMENT) if part in trial.groups}
    found, weight = None, np.ones(len(x))
    held: dict[str, float] | None = (
        None  # between two searches for the spreads, which take longest, x0 comes to rest
    )
    ratios: dict[str, float] = {}
    for round_ in range(_ROUNDS):
        x = np.clip(x, -_FARTHEST, _FARTHEST)
        p = special.expit(x)
        weight = fruit * p * (1 - p)
        root = np.sqrt(weight)
        reading = x + (share - p) / (p * (1 - p))
        found = None  # let go before the next is made
        groups: dict[str, object] = {part: (labels, root) for part, labels in trial.groups.items()}
        found = fit(
            reading * root,
            trial.X.mul(root, axis=0),
            groups,
            off_zero=off_zero,
            held=held,
            patterns=patterns,
            near=None if held else ratios,
        )
        if not found.converged:
            raise UnfittedError("the search for its spreads did not settle.")
        before, x = x, found.predict(trial.X.to_numpy(), lasting).estimate
        if held is None and np.abs(np.clip(x, -_FARTHEST, _FARTHEST) - before).max() < _STILL:
            break
        ratios = {part: found.variance[part] / found.variance[RESIDUAL] for part in trial.groups}
        held = None if (round_ + 1) % _EACH == 0 else ratios
    assert found is not None
    usual_fruit = float(np.median(fruit))
    alike = (found.variance[RESIDUAL] - 1) / max(usual_fruit - 1, 1.0)
    return FittedOdds(found, float(np.median(weight)), round(usual_fruit), min(max(alike, 0.0), 1.0))
