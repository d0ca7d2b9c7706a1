"""Whether one trait's records let a cultivar's relatives speak for it, and what the fit says then.

A cultivar is what its parents passed on and what is its own,

    c = a + r,     a ~ N(0, sigma2_a A),     r ~ N(0, sigma2_r)

with A the relationship (``dashboard.mixed.kin``): so one of few samples is judged by its brothers and sisters too. Both variances are
estimated beside all others. A pedigree may be wrong, and a trait not inherited: the part stays only where it lowers the REML criterion by more
than its own parameter counts. One counts 2 (Akaike 1974, IEEE Trans. Automatic Control 19: 716-723); of a variance that may be zero half of
the chances are zero (Self & Liang 1987, JASA 82: 605-610), so it counts 1.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from dashboard.estimates.plan import CULTIVAR
from dashboard.estimates.relatives import FEWEST, PAIRS, RELATIVES, Relatives, with_near
from dashboard.estimates.trial import Trial
from dashboard.mixed import Fit, why_not

SPEAKS = 1.0  # fall of the criterion; chance alone gives it in one trial of six


@dataclass(frozen=True, eq=False)
class ToldBy:
    """The fit that is told, with relatives where they speak; arrays by cultivar of the trial."""

    trial: Trial
    fitted: Fit
    notes: tuple[str, ...] = ()
    leans: np.ndarray = field(default_factory=lambda: np.empty(0))

    @property
    def _parts(self) -> tuple[str, ...]:
        return (CULTIVAR,) if self.trial.kin is None else (CULTIVAR, RELATIVES)

    @cached_property
    def variance(self) -> dict[str, float]:
        """By part, what is inherited counted with the rest of the cultivar."""
        found = dict(self.fitted.variance)
        found[CULTIVAR] += found.pop(RELATIVES, 0.0)
        return found

    @cached_property
    def variance_se(self) -> dict[str, float]:
        found = dict(self.fitted.variance_se)
        if found.pop(RELATIVES, None) is not None:
            found[CULTIVAR] = self.fitted.variance_se_of(*self._parts)
        return found

    @property
    def at_zero(self) -> tuple[str, ...]:
        spoken = {CULTIVAR, RELATIVES} if self.trial.kin is not None else set()
        return tuple(name for name in self.fitted.at_zero if name not in spoken)

    @cached_property
    def deviation(self) -> np.ndarray:
        """How far each cultivar is predicted from what is usual."""
        return sum(
            (self.fitted.effect[part].reindex(self.trial.cultivars).to_numpy() for part in self._parts),
            np.zeros(len(self.trial.cultivars)),
        )

    @cached_property
    def deviation_sd(self) -> np.ndarray:
        """Its error, the fixed effects taken as known."""
        if self.trial.kin is None:
            return self.fitted.effect_sd[CULTIVAR].reindex(self.trial.cultivars).to_numpy()
        return self.fitted.error_of(dict.fromkeys(self._parts, self.trial.cultivars))


def told_by(
    relatives: Relatives | None, trial: Trial, apart: Fit, settled: Callable[[dict[str, float]], Fit]
) -> ToldBy:
    """With relatives where the records speak for it: then ``trial`` has them. ``apart`` is the fit without, ``settled`` fits the trial
    from the ratios of variances it is given."""
    if relatives is None:
        return ToldBy(trial, apart)
    if relatives.too_many:
        return ToldBy(
            trial, apart, ("Too many parents are on record to judge cultivars by their relatives.",)
        )
    whole = relatives.among(trial.read.cultivars).of(trial.cultivars)
    near = with_near(whole)
    if near < FEWEST:
        return ToldBy(
            trial,
            apart,
            (
                f"Parents are on record, but {near} cultivars with a near relative are too few to go by families.",
            ),
        )
    samples = np.unique(trial.read.cultivar, return_counts=True)[1]
    trial.kin = kin = whole.nearer(samples, PAIRS)
    apart.best.point.let_go()  # two at once take memory
    try:
        fitted = settled(_halved(apart))
    except (ValueError, np.linalg.LinAlgError) as fault:
        trial.kin = None
        return ToldBy(trial, apart, (f"Cultivars are judged without their relatives: {why_not(fault)}",))
    if apart.best.point.plain - fitted.best.point.plain < SPEAKS:
        trial.kin = None
        return ToldBy(
            trial,
            apart,
            ("By these records, families say nothing of this trait. So each cultivar is judged by itself.",),
        )
    inherited = fitted.variance[RELATIVES] / (fitted.variance[RELATIVES] + fitted.variance[CULTIVAR])
    note = (
        f"Cultivars lean on their relatives: {near} have near ones. "
        f"Of how cultivars differ, {100 * inherited:.0f} % goes by their parents."
    )
    if kin.shared.nnz < whole.shared.nnz:
        note += " The most distant ancestors are left out of account."
    told = ToldBy(trial, fitted, (note,))
    asked = trial.asked(None)
    with_them = fitted.predict(*asked).variance
    asked[1].pop(RELATIVES)
    alone = (
        apart.put_at(told.variance).predict(*asked).variance
    )  # the same variances, but nobody speaks for another
    return replace(told, leans=trial.whole(np.maximum(np.sqrt(alone / with_them) - 1, 0.0)))


def _halved(apart: Fit) -> dict[str, float]:
    """Ratios of variances to the residual one, half of that between cultivars taken as passed on."""
    ratios = dict(zip(apart.model.variances, apart.best.point.ratios.tolist(), strict=False))
    half = ratios[CULTIVAR] / 2
    return ratios | {CULTIVAR: half, RELATIVES: half}


def relatives_variance(trial: Trial, fitted: Fit) -> np.ndarray | float:
    """What goes by parents in the variance of each cultivar; more where it is inbred."""
    return 0.0 if trial.kin is None else fitted.variance[RELATIVES] * trial.kin.diagonal
