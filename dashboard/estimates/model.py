"""One trait fitted by REML, and from the fit the values of every cultivar over sites and at each site.

Records are sample means with their number of fruit and the pooled sum of squares within samples, which is exactly the
likelihood of the single fruit (``dashboard.mixed``). Values are best linear unbiased predictions (Henderson 1975,
Biometrics 31: 423-447); their errors allow for the variances being estimated (Kackar & Harville 1984, JASA 79: 853-862;
Satterthwaite 1946, Biometrics Bulletin 2: 110-114). The variance of cultivars is kept off zero by a prior (Chung et al. 2013,
Psychometrika 78: 685-709): few cultivars may agree by chance, and none at all would then be told as certain.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
from scipy import linalg, sparse

from dashboard.estimates.averages import COLUMNS, average_values, counts
from dashboard.estimates.leaning import ToldBy, relatives_variance, told_by
from dashboard.estimates.levels import levels_of, listed_variance
from dashboard.estimates.odds import fitted_odds
from dashboard.estimates.plan import (
    BY_SITE,
    CULTIVAR,
    ENVIRONMENT,
    INTERACTIONS,
    RESIDUAL,
    WORDS,
    Plan,
    connected,
    plan,
)
from dashboard.estimates.readings import Readings, readings
from dashboard.estimates.relatives import Relatives
from dashboard.estimates.scale import Scale, on_odds, scale_of
from dashboard.estimates.trial import CHECK, CROP, ENTERED, KIND, MEAN, PICK, Trial
from dashboard.estimates.worth import MODEL_METHOD, Signal, Worth
from dashboard.mixed import Fit, Moves, Patterns, Prediction, UnfittedError, fit, why_not
from dashboard.terms.traits import trait_called

BY_ODDS = (
    "Taken as counts of fruit: near none and near all, a range reaches further to one side than to the other."
)
_NO_FIRMNESS = ("firmness", "cheek_difference")


def worth(
    summaries: pd.DataFrame,
    trait: str,
    checks: frozenset[str] = frozenset(),
    equal_firmness: bool = False,
    off_zero: tuple[str, ...] = (CULTIVAR,),
    patterns: Patterns | None = None,
    relatives: Relatives | None = None,
    kinds: pd.Series | None = None,
) -> Worth:
    """What every cultivar is worth in one trait: by the model, or by raw averages with the reason.

    Parameters
    ----------
    summaries : DataFrame
        One row a sample, SI units.
    trait : str
        A key of ``TRAITS``.
    checks : frozenset of str
        The check cultivars, which have a mean of their own in the trend over seasons of entry.
    equal_firmness : bool
        At the same firmness at picking; samples without firmness are left out.
    off_zero : tuple of str
        Parts whose variance a prior keeps off zero; none for plain REML.
    patterns : Patterns, optional
        Lends what the fits of several traits have in common.
    relatives : Relatives, optional
        Who is bred from whom: each is judged by its relatives too, where the records speak for it.
    kinds : Series, optional
        By cultivar of what shape it is: each is judged beside its own kind, where enough of it were seen.

    Returns
    -------
    Worth
        ``modelled`` says which it is, ``plan`` why.

    Raises
    ------
    ValueError
        Firmness itself was asked for at equal firmness.

    Source
    ------
    Henderson (1975), Biometrics 31: 423-447; Kackar & Harville (1984), JASA 79: 853-862; Satterthwaite (1946), Biometrics Bulletin
    2: 110-114; Chung et al. (2013), Psychometrika 78: 685-709.
    """
    if equal_firmness and trait in _NO_FIRMNESS:
        raise ValueError(f"{trait_called(trait).label} cannot be judged at equal firmness.")
    read = readings(summaries, trait)
    if equal_firmness:
        read = read.take(np.isfinite(read.firmness))
    planned = plan(read, checks, equal_firmness)
    while not planned.refused:
        try:
            trial = Trial(read, planned, checks, equal_firmness, kinds)
            return _fitted(trial, off_zero, patterns, relatives)
        except (ValueError, np.linalg.LinAlgError) as fault:
            planned = _less(planned, why_not(fault))
    at = {
        str(read.sites[site]): average_values(read.take(read.site == site)) for site in np.unique(read.site)
    }
    return Worth(trait, planned, average_values(read), at, connected(read), _seen(read))


def _less(planned: Plan, fault: str) -> Plan:
    """The plan without its finest part, or refused when none is left to leave out."""
    for part in reversed(INTERACTIONS):
        if part in planned.kept:
            kept = tuple(name for name in planned.kept if name != part)
            words = WORDS[part]
            why = {part: f"{words[0].upper()}{words[1:]} was left out of the model: {fault}"}
            return replace(planned, kept=kept, dropped={**planned.dropped, **why})
    return replace(planned, refused=f"The model could not be fitted: {fault}", kept=())


def _settled(
    trial: Trial, off_zero: tuple[str, ...], patterns: Patterns | None, near: dict[str, float] | None = None
) -> Fit:
    y, X, groups, squares = trial.asked_of
    n, within_ss = (trial.read.n, squares) if trial.plan.sampled else (None, 0.0)
    fitted = fit(y, X, groups, n=n, within_ss=within_ss, off_zero=off_zero, patterns=patterns, near=near)
    if not fitted.converged:
        raise UnfittedError("the search for its spreads did not settle.")
    return fitted


def _fitted(
    trial: Trial, off_zero: tuple[str, ...], patterns: Patterns | None, relatives: Relatives | None
) -> Worth:
    read, planned = trial.read, trial.plan
    by_odds = fitted_odds(trial, off_zero, patterns) if on_odds(read.trait) else None
    apart = by_odds.fit if by_odds else _settled(trial, off_zero, patterns)
    # Of shares each cultivar is judged by its own fruit alone.
    kin = told_by(
        None if by_odds else relatives,
        trial,
        apart,
        lambda near: _settled(trial, off_zero, patterns and patterns.related, near),
    )
    fitted = kin.fitted
    variance, variance_se = dict(kin.variance), dict(kin.variance_se)
    if planned.environment == "fixed":
        variance[ENVIRONMENT] = listed_variance(trial, fitted)
    level = levels_of(trial, fitted)
    scatter: dict[str, float] = {}
    if by_odds:
        variance[RESIDUAL] /= by_odds.known
        variance_se[RESIDUAL] /= by_odds.known
        scatter = {"": variance.get(ENVIRONMENT, 0.0)}
        scatter |= {str(read.sites[place]): level.by_season for place in np.unique(read.site)}
    over = fitted.predict(*trial.asked(None))
    moves, method = fitted.moves(), pd.Series(MODEL_METHOD, index=read.cultivars, dtype="str")
    at, follows, stood = {}, {}, {}
    values = _values(trial, fitted, over, None, moves, method, scale_of(read.trait, scatter.get("")))
    for place in np.unique(read.site).tolist():
        site, here = str(read.sites[place]), fitted.predict(*trial.asked(place))
        at[site] = _values(trial, fitted, here, place, moves, method, scale_of(read.trait, scatter.get(site)))
        follows[site] = trial.whole(here.covariance_with(over) / over.variance)
        stood[site] = int((trial.where == place).sum())
        del here  # one after the other: each takes memory
    del moves
    own, shared = _low_rank(over)
    notes = [
        *planned.notes,
        *dict.fromkeys(trial.left_out),
        *filter(None, [trial.spread_told]),
        *_young(trial, fitted, over),
        *([BY_ODDS] if by_odds else []),
        *filter(None, [trial.kinds_told]),
        *kin.notes,
    ]
    if trial.kin is None and fitted.better_without(CULTIVAR):
        alike = "cultivars of one shape" if trial.kinds_told else "cultivars"
        notes.append(
            f"By these records alone, {alike} differ by no more than chance. They may differ all the same: few records can hide it. "
            "So the values lie close together, and their ranges stay wide."
        )
    return Worth(
        trait=read.trait,
        plan=replace(planned, notes=tuple(notes)),
        values=values,
        at=at,
        group=connected(read),
        seen=_seen(read),
        variance=variance,
        variance_se=variance_se,
        at_zero=kin.at_zero,
        usual=trial.whole(over.estimate - kin.deviation),
        pev=trial.whole(over.variance),
        own=trial.whole(own),
        shared=trial.whole(shared),
        level=level.by_season,
        site_level=level.by_site,
        seasons=level.seasons,
        site_seasons=stood,
        pick_step=float(fitted.beta[PICK]) if PICK in fitted.beta else 0.0,
        pick_variance=float(np.var(trial.picks)),
        rough=trial.rough if trial.spread_told else np.empty(0),
        scatter=scatter,
        judged=by_odds.fruit if by_odds else 0,
        clusters=by_odds.alike if by_odds else 0.0,
        rough_at=trial.rough_of_sites if trial.spread_told else {},
        signal=_signal(trial, variance, kin, follows),
        leans=kin.leans,
    )


def _signal(
    trial: Trial, variance: dict[str, float], kin: ToldBy, follows: dict[str, np.ndarray]
) -> Signal | None:
    between, count = variance[CULTIVAR], len(trial.cultivars)
    if not between > 0:
        return None
    taken = sum(name in (MEAN, CHECK, ENTERED) or name.startswith(KIND) for name in trial.X.columns)
    peculiar = variance[BY_SITE] if BY_SITE in trial.groups else 0.0
    rough_at = trial.rough_of_sites
    return Signal(
        deviation=trial.whole(kin.deviation / np.sqrt(between)),
        reliability=trial.whole(np.clip(1 - np.square(kin.deviation_sd) / between, 0.0, 1.0)),
        freedom=max(1 - taken / count, 1 / count),
        follows=follows,
        spread={site: between + peculiar * rough_at[site] ** 2 for site in follows},
    )


def _young(trial: Trial, fitted: Fit, over: Prediction) -> list[str]:
    """How crops of young trees differed from later ones, in per cent of what is usual; of ratings and shares that says nothing."""
    usual = float(np.mean(over.estimate))
    steps = [
        f"crop {crop} {100 * fitted.beta[column] / usual:+.1f} %"
        for crop, column in ((crop, f"{CROP} {crop}") for crop in trial.plan.crops)
        if column in fitted.beta
    ]
    trait = trait_called(trial.read.trait)
    if not trait.on_fruit or not steps or usual <= 0:
        return []
    return [f"{trait.label} beside that of older trees: {', '.join(steps).replace('-', '−')}."]


def _values(
    trial: Trial,
    fitted: Fit,
    asked: Prediction,
    site: int | None,
    moves: Moves,
    method: pd.Series,
    scale: Scale,
) -> pd.DataFrame:
    """One row a cultivar with the COLUMNS, told on the scale of the trait.

    reliability is 1 - error variance / variance of such values, 0 where the records say nothing of a cultivar.
    """
    read, count, predicted = trial.read, len(trial.cultivars), asked.small_sample(moves)
    spread = np.full(count, fitted.variance[CULTIVAR]) + relatives_variance(trial, fitted)
    unseen = np.zeros(count)
    if site is not None and BY_SITE in trial.groups:
        peculiar = fitted.variance[BY_SITE] * trial.rough_at[site] ** 2
        spread += peculiar
        # Of a cultivar that never stood there it is not known at all what it owes to the site.
        unseen = np.where(np.diff(trial.at_site(site).indptr) == 0, peculiar, 0.0)
        unseen = unseen * np.square(trial.rough[trial.cultivars])
    se = np.sqrt(np.square(predicted["se"].to_numpy()) + unseen)
    df = np.maximum(np.nan_to_num(predicted["df"].to_numpy(), nan=np.inf), 1.0)
    # How far its third of the cultivars varies is itself known by few: an error variance 2 / df of the log, once more.
    df = np.maximum(1 / (1 / df + trial.doubt[trial.cultivars] / 2), 1.0)
    error = asked.variance + unseen
    reliability = np.clip(1 - np.divide(error, spread, out=np.ones(count), where=spread > 0), 0.0, 1.0)
    middle = scale.middle(predicted["estimate"].to_numpy(), se, reliability)
    by_seen = {**scale.interval(middle, se, df), "reliability": reliability, "df": df}
    behind = counts(read if site is None else read.take(read.site == site))
    columns = {name: trial.whole(column) for name, column in by_seen.items()} | behind | {"method": method}
    return pd.DataFrame({name: columns[name] for name in COLUMNS}, index=read.cultivars)


def _low_rank(asked: Prediction) -> tuple[np.ndarray, np.ndarray]:
    """own (k,) and shared (k, G) of the error covariance diag(own) + shared shared'."""
    Y, T = asked.parts
    sigma2 = asked.fit.best.point.sigma2
    among = sparse.coo_array(Y @ Y.T)
    row, column = among.coords
    if not (np.abs(among.data[row != column]) > 1e-12 * np.abs(among.data).max(initial=1e-300)).any():
        # Of an error seven digits are enough, in half the memory.
        return sigma2 * among.diagonal(), (np.sqrt(sigma2) * T).astype(np.float32)
    values, vectors = linalg.eigh(asked.covariance())
    return np.zeros(len(values)), vectors * np.sqrt(np.maximum(values, 0))


def _seen(read: Readings) -> np.ndarray:
    """(m, 2) each cultivar with each site-season it stood in, once."""
    return np.unique(np.stack([read.cultivar, read.environment]), axis=1).T
