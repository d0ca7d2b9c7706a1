"""Three different questions about a limit, each plainly labelled: the long-run mean, next season's mean, the fruit.

A cultivar may clear a limit in the long run and miss it in the next season, and its mean may clear it while a third
of its fruit do not. All three are normal (Student's t) tails about the value, wider from question to question:

    long run       error of the value alone: the site-seasons of the records, taken together, stand for those to come
    next season    the same, and what the cultivar, the site and the season do in a season to come
    fruit          the same, and how samples and the fruit within them scatter
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import pandas as pd
from scipy import stats

from dashboard.estimates.one_season import NEEDS_RATIO, long_run
from dashboard.estimates.plan import (
    BY_BOTH,
    BY_SEASON,
    BY_SITE,
    CULTIVAR,
    ENVIRONMENT,
    RANDOM_FROM,
    RESIDUAL,
    SAMPLE,
)
from dashboard.estimates.worth import Worth
from dashboard.terms.traits import trait_called

# Two or three seasons may agree by chance. Where there are so few, what they show of the level of seasons is weighed
# with an assumption, as if it rested on ASSUMED_DF further ones: variance of seasons over that of cultivars.
ASSUMED_RATIO, ASSUMED_DF = 0.5, 4
FEW_SEASONS = "How much seasons differ is judged by {} and by an assumption: that they differ about 0.7 times as much as cultivars do."
_SAMPLES = 20  # ways in which a sample to come may lie, by season and by all else
LEVELS = 80  # enough for a chance right to a fifth of a per cent
LONG_RUN, NEXT_SEASON, FRUIT = "long_run", "next_season", "fruit"


@dataclass(frozen=True, eq=False)
class Chance:
    question: str
    by_cultivar: pd.Series  # 0 to 1; NaN without a reading, or throughout when refused
    refused: str = ""
    given: str = ""  # what was borrowed to answer it, and what is only roughly known


def chances(
    worth: Worth, limit: float, *, at_least: bool = True, site: str | None = None, ratio: float | None = None
) -> dict[str, Chance]:
    """The three answers to a limit.

    Parameters
    ----------
    worth : Worth
    limit : float
        In SI units.
    at_least : bool
        Whether the limit is a lower one.
    site : str, optional
        At one site; over all of them without.
    ratio : float, optional
        The borrowed one of ``one_season``, needed when each cultivar was seen in one season only and ignored otherwise.

    Returns
    -------
    dict of str to Chance
        By LONG_RUN, NEXT_SEASON and FRUIT: by cultivar 0 to 1, or why there is none.

    Raises
    ------
    ValueError
        A site without readings, or a limit that is no number.

    Source
    ------
    Degrees of freedom: Satterthwaite (1946), Biometrics Bulletin 2: 110-114.
    """
    if not np.isfinite(limit):
        raise ValueError(f"The limit {limit!r} is not a number.")
    if site is not None and site not in worth.at:
        raise ValueError(f"{trait_called(worth.trait).label} was not measured at {site!r}.")
    questions = _questions(worth, limit, at_least, site)
    refusals = _refusals(worth, site, ratio)
    if not worth.modelled or all(refusals.values()):
        return {key: Chance(questions[key], _nothing(worth), refusals[key]) for key in questions}
    values, scale, given = worth.values if site is None else worth.at[site], worth.scale(site), ""
    if worth.plan.one_season and ratio is not None:
        values = long_run(worth, ratio)
        given = f"{values.attrs['given']} It is taken that seasons to come are like the one seen."
    spread, df_level = spreads(worth, site, ratio), level_df(worth)
    seen = "one season" if worth.seasons == 1 else f"{worth.seasons} seasons"
    fitted = scale.frame(values)
    estimate, se, df = (fitted[name].to_numpy() for name in ("estimate", "se", "df"))
    rough = np.square(worth.rough) if worth.rough.size else 1.0
    answers = {}
    for key, question in questions.items():
        if refusals[key]:
            answers[key] = Chance(question, _nothing(worth), refusals[key])
            continue
        alone, of_seasons = spread[key]
        known = alone * np.asarray(rough)
        error, middle = np.square(se), estimate
        bound = scale.fitted(limit)
        if worth.scatter and key != LONG_RUN:
            if key == FRUIT:
                known = known - worth.variance[RESIDUAL] + _clusters(worth, estimate)
            middle, bound = _about(worth, estimate, known), worth.each().fitted(limit)
        with np.errstate(divide="ignore", invalid="ignore"):
            df_known = df * np.square(
                (error + known) / error
            )  # Satterthwaite 1946: what is known has no error
            shifts = np.sqrt(of_seasons) * levels(df_level) if of_seasons > 0 else np.zeros(1)
            if worth.scatter and key == FRUIT:
                tail = _of_samples(worth, middle, np.sqrt(error + known), df_known, shifts, limit, at_least)
            else:
                away = (middle - bound) * (1 if at_least else -1)
                tail = stats.t.cdf((away + shifts[:, None]) / np.sqrt(error + known), df_known).mean(axis=0)
        said = FEW_SEASONS.format(seen) if worth.seasons < RANDOM_FROM and key != LONG_RUN else ""
        by_cultivar = pd.Series(tail, index=values.index, name=key)
        answers[key] = Chance(question, by_cultivar, "", " ".join(filter(None, [given, said])))
    return answers


def _about(worth: Worth, estimate: np.ndarray, known: np.ndarray | float) -> np.ndarray:
    """Log odds about which those of single seasons or samples scatter by ``known``, where their mean share is that of ``estimate``."""
    usual = float(np.nanmean(known)) if np.isfinite(known).any() else 0.0
    return worth.each(round(usual, 6)).fitted(worth.each().told(estimate))


def _clusters(worth: Worth, estimate: np.ndarray) -> np.ndarray:
    """Variance of log odds (cultivars,) that makes fruit of one sample as alike as they are."""
    odds = worth.each().told(estimate) / worth.each().high
    return worth.clusters / np.maximum(odds * (1 - odds), 1e-3)


def _of_samples(
    worth: Worth,
    middle: np.ndarray,
    spread: np.ndarray,
    df: np.ndarray,
    shifts: np.ndarray,
    limit: float,
    at_least: bool,
) -> np.ndarray:
    """Share (cultivars,) of samples of the usual number of fruit that read on the right side of the limit: a binomial tail."""
    away = stats.t.ppf((np.arange(_SAMPLES) + 0.5)[:, None] / _SAMPLES, df) * spread
    each = worth.each()
    odds = each.told(middle + away + shifts[:: max(len(shifts) // _SAMPLES, 1), None, None]) / each.high
    count, last_bits = worth.judged * limit / each.high, 1e-9
    return (
        stats.binom.sf(np.ceil(count - last_bits) - 1, worth.judged, odds)
        if at_least
        else stats.binom.cdf(np.floor(count + last_bits), worth.judged, odds)
    ).mean(axis=(0, 1))


def level_df(worth: Worth) -> int:
    """On how many degrees of freedom the level of a season to come is foretold: those seen, and where they are few those of
    the assumption."""
    return worth.seasons - 1 + (ASSUMED_DF if worth.seasons < RANDOM_FROM else 0)


@cache
def levels(df: int) -> np.ndarray:
    """Levels of a season to come, each as likely as the others, in units of the spread that ``df`` + 1 seasons showed.

    A spread judged by few seasons is itself rough, so these are of Student's t, as for any next observation.
    """
    return stats.t.ppf((np.arange(LEVELS) + 0.5) / LEVELS, max(df, 1))


def _nothing(worth: Worth) -> pd.Series:
    return pd.Series(np.nan, index=worth.values.index)


def _questions(worth: Worth, limit: float, at_least: bool, site: str | None) -> dict[str, str]:
    label = trait_called(worth.trait).label.lower()
    clears = f"{'at least' if at_least else 'at most'} {limit:.6g}"
    sites = list(worth.at)
    where = f"at {site or sites[0]}" if site or len(sites) == 1 else "at a site like these"
    average = (
        f"{where}, in seasons like those seen"
        if site or len(sites) == 1
        else "over sites and seasons like those seen"
    )
    each = "fruit" if trait_called(worth.trait).on_fruit else "samples"
    return {
        LONG_RUN: f"Chance that the cultivar's long-run mean of {label} {average}, is {clears}",
        NEXT_SEASON: f"Chance that next season's mean of {label} {where} is {clears}",
        FRUIT: f"Share of future {each} {where} with {label} {clears}",
    }


def _refusals(worth: Worth, site: str | None, ratio: float | None) -> dict[str, str]:
    if not worth.modelled:
        return dict.fromkeys((LONG_RUN, NEXT_SEASON, FRUIT), worth.plan.refused)
    if not worth.plan.one_season:
        return dict.fromkeys((LONG_RUN, NEXT_SEASON, FRUIT), "")
    if ratio is None:
        return dict.fromkeys((LONG_RUN, NEXT_SEASON, FRUIT), NEEDS_RATIO)
    if site is not None and len(worth.at) > 1:
        one = "With one season of each, a borrowed ratio answers over all sites, not at one."
        return dict.fromkeys((LONG_RUN, NEXT_SEASON, FRUIT), one)
    level = (
        "One site in one season does not show how much seasons differ, so next season's level is not known."
    )
    later = "" if ENVIRONMENT in worth.variance else level
    return {LONG_RUN: "", NEXT_SEASON: later, FRUIT: later}


def spreads(worth: Worth, site: str | None, ratio: float | None) -> dict[str, tuple[float, float]]:
    """What each question adds to the error variance of the value, apart from the level of seasons and by it."""
    sigma, between = worth.variance, worth.level
    if worth.seasons < RANDOM_FROM:
        assumed = ASSUMED_RATIO * (sigma[CULTIVAR] + sigma.get(BY_SITE, 0.0))
        between = (between * (worth.seasons - 1) + assumed * ASSUMED_DF) / level_df(worth)
    seen = worth.seasons if site is None else worth.site_seasons[site]
    level = between * (1 + 1 / seen)  # of the season to come, from the mean of those seen
    if site is None:
        level += worth.site_level * (1 + 1 / max(len(worth.site_seasons), 1))  # and of a site not named
    season = sigma.get(BY_SEASON, 0.0) + sigma.get(BY_BOTH, 0.0)
    if worth.plan.one_season and ratio is not None:
        season = sigma[CULTIVAR] * ratio / (1 + ratio)
    elif BY_BOTH not in worth.plan.kept and BY_SITE in worth.plan.kept and SAMPLE in sigma:
        season += sigma[SAMPLE]  # what is peculiar to a site-season lies within the samples then
    season += sigma.get(BY_SITE, 0.0) if site is None else 0.0  # and what it owes to a site not named
    there = worth.rough_at.get(site or "", 1.0) ** 2
    season *= there
    fruit = (
        season + there * (sigma.get(SAMPLE, 0.0) + sigma[RESIDUAL]) + worth.pick_step**2 * worth.pick_variance
    )
    return {LONG_RUN: (0.0, 0.0), NEXT_SEASON: (season, level), FRUIT: (fruit, level)}
