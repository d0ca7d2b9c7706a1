"""Where the variation in a trait comes from, part by part, in words and as shares for one picture."""

from __future__ import annotations

import pandas as pd

from dashboard.estimates.plan import (
    BY_BOTH,
    BY_SEASON,
    BY_SITE,
    CULTIVAR,
    ENVIRONMENT,
    RESIDUAL,
    SAMPLE,
)  # fmt: skip
from dashboard.estimates.worth import Worth
from dashboard.terms.traits import trait_called

# In the order of a picture: the cultivars first, the noise last.
WORDS = {
    CULTIVAR: "Cultivars: lasting differences",
    BY_SITE: "Cultivars at certain sites: what suits one and not another",
    BY_SEASON: "Cultivars in certain seasons: what a season suits",
    BY_BOTH: "Cultivars in one site-season: luck that does not come back",
    ENVIRONMENT: "Site and season: what all cultivars share",
    SAMPLE: "Samples: pick to pick and tree to tree",
    RESIDUAL: "Fruit within a sample",
}
COLUMNS = ("source", "variance", "se", "sd", "share", "at_zero")


def sources(worth: Worth) -> pd.DataFrame:
    """Where the variation in a trait comes from.

    Parameters
    ----------
    worth : Worth

    Returns
    -------
    DataFrame
        One row a part of the model (index its name), SI units; none without a model. share is of the variance of a single fruit (or
        sample) of any cultivar at any site in any season, and adds up to 1; se is NaN for a variance at zero and for listed
        site-seasons. ``attrs["sentence"]`` says the two largest in words.
    """
    rows = []
    total = sum(worth.variance.values())
    for part, words in WORDS.items():
        if part in worth.variance:
            variance = worth.variance[part]
            text = _words(worth, part, words)
            se = worth.variance_se.get(part, float("nan"))
            rows.append((part, text, variance, se, variance**0.5, variance / total, part in worth.at_zero))
    frame = pd.DataFrame(rows, columns=["part", *COLUMNS]).set_index("part")
    frame.attrs["sentence"] = _sentence(frame) if len(frame) else worth.plan.refused
    return frame


def _words(worth: Worth, part: str, words: str) -> str:
    if part == CULTIVAR:
        within = [("site", BY_SITE), ("season", BY_SEASON)]
        missing = [name for name, other in within if other not in worth.plan.kept]
        if missing:
            return f"Cultivars, with what they owe to their {' and '.join(missing)}"
    if part == RESIDUAL and not trait_called(worth.trait).on_fruit:
        return "Samples and whoever judged them"
    if part == RESIDUAL and not worth.plan.sampled:
        return "Samples and the fruit within them"
    return words


def _sentence(frame: pd.DataFrame) -> str:
    shares = frame["share"].sort_values(ascending=False)
    first, *rest = shares.index
    said = f"{100 * shares[first]:.0f} % of the variation lies in: {frame.loc[first, 'source']}"
    if rest:
        said += f"; {100 * shares[rest[0]]:.0f} % in: {frame.loc[rest[0], 'source']}"
    zero = [frame.loc[part, "source"].split(":")[0].lower() for part in frame.index[frame["at_zero"]]]
    # What does not show may be there all the same.
    return said + (f". Too little to see in these records: {', '.join(zero)}." if zero else ".")
