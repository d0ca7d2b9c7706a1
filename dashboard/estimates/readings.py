"""The samples that say something about one trait, coded, and a sentence for each that was set aside.

A reading is set aside when it is no number, is impossible for its kind, or stands so far from all others that it
can only be a slip: one such reading would otherwise spread over every cultivar's error.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from dashboard.estimates.scale import bounds
from dashboard.estimates.unsampled import whole
from dashboard.records.taken import Taken
from dashboard.terms.traits import FRUIT_TRAITS, UNKNOWN, trait_called

# Robust standard deviations from the middle of all samples; no sample of a real trial stands as far (judgement).
FARTHEST = 20.0
USUAL_FRUIT = 10.0  # of a sample whose fruit were not measured (common practice, no source)
# Of all fruit under the smallest that was sampled, from which share on what is worked back leans on the shape of their law more than
# likely ranges allow for (a choice of ours, by simulated trials).
DEEP = 0.35
TOO_DEEP = (
    "About {:.0f} % of all fruit are smaller than that. So the likely ranges of size are a little too narrow."
)
_NORMAL_MAD, _NORMAL_IQR = 1.4826, 1.349  # of a normal law with SD 1


@dataclass(frozen=True, eq=False)
class Readings:
    """R samples of one trait. Codes count from 0 into ``cultivars``, ``sites`` and ``seasons``."""

    trait: str
    cultivars: pd.Index  # every cultivar sampled for anything, sorted by name
    sites: pd.Index
    seasons: pd.Index
    cultivar: np.ndarray  # (R,) codes
    site: np.ndarray
    season: np.ndarray
    y: np.ndarray  # (R,) SI
    n: np.ndarray  # (R,) fruit measured; 0 for traits judged once a sample
    ss: np.ndarray  # (R,) sum of squares of the fruit about their mean; NaN where not known
    pick: np.ndarray  # (R,) NaN where not known
    firmness: np.ndarray  # (R,) mean firmness at picking, N
    day: np.ndarray  # (R,) of the season; NaN where not known
    crop: np.ndarray  # (R,) which crop of its trees, 1 the first; NaN where not known
    judged: np.ndarray  # (R,) fruit a share is of
    aside: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.y)

    def take(self, rows: np.ndarray) -> Readings:
        """The same readings, only ``rows`` (a mask or places)."""
        parts = {name: getattr(self, name)[rows] for name in _BY_ROW}
        return Readings(self.trait, self.cultivars, self.sites, self.seasons, **parts, aside=self.aside)

    @property
    def environment(self) -> np.ndarray:
        """(R,) the site-season of each sample: codes from 0 without gaps, by site and then season."""
        return np.unique(self.site * (len(self.seasons) + 1) + self.season, return_inverse=True)[1]


_BY_ROW = ("cultivar", "site", "season", "y", "n", "ss", "pick", "firmness", "day", "crop", "judged")


def readings(summaries: pd.DataFrame, trait: str) -> Readings:
    """What ``summaries`` hold on ``trait``; samples without a reading or a cultivar are left out."""
    owner, names = pd.factorize(summaries["cultivar"], sort=True)
    site, sites = _coded(summaries["site"])
    season, seasons = _coded(summaries["season"])
    y = floats(summaries, trait)
    keep = (owner >= 0) & ~np.isnan(y)
    slips, aside = _slips(y, keep, trait, summaries)
    keep &= ~slips
    everything = Readings(
        trait,
        pd.Index(names, name="cultivar"),
        sites,
        seasons,
        owner.astype(np.int64),
        site,
        season,
        y,
        np.nan_to_num(floats(summaries, f"{trait}_n")),
        floats(summaries, f"{trait}_ss"),
        floats(summaries, "pick"),
        floats(summaries, "firmness"),
        floats(summaries, "day"),
        floats(summaries, "crop"),
        _judged(summaries, trait),
        aside,
    )
    return _of_all_fruit(everything.take(keep), summaries)


def _of_all_fruit(read: Readings, summaries: pd.DataFrame) -> Readings:
    """Sizes as of all fruit where those under a diameter were not sampled, and a sentence wherever some were not."""
    if read.trait != "size" or "size_taken" not in summaries or not len(read):
        return read
    way, floor = summaries["size_taken"].iloc[0], float(summaries["size_floor"].iloc[0])
    known = np.isfinite(floor)
    read = replace(read, aside=(*read.aside, Taken(way, floor if known else None).sentence))
    if not known:
        return read
    y, n, ss, under = whole(read.y, read.n, read.ss, read.cultivar, read.environment, floor)
    told = (TOO_DEEP.format(100 * under),) if under > DEEP else ()
    return replace(read, y=y, n=n, ss=ss, aside=(*read.aside, *told))


def _judged(summaries: pd.DataFrame, trait: str) -> np.ndarray:
    """How many fruit a sample had in hand when its share was judged: as many as were measured in any trait, else the usual number."""
    if trait_called(trait).quantity != "share":
        return np.ones(len(summaries))
    counts = [f"{one}_n" for one in FRUIT_TRAITS if f"{one}_n" in summaries]
    most = np.nan_to_num(summaries[counts].to_numpy(dtype=float)).max(axis=1, initial=0)
    return np.where(most >= 1, most, USUAL_FRUIT)


def floats(frame: pd.DataFrame, column: str) -> np.ndarray:
    """A column as floats; all NaN where the frame has none."""
    if column not in frame:
        return np.full(len(frame), np.nan)
    return frame[column].to_numpy(dtype=float, na_value=np.nan)


def _coded(column: pd.Series) -> tuple[np.ndarray, pd.Index]:
    """Codes in sorted order; what is missing is one place of its own."""
    codes, found = pd.factorize(column, sort=True, use_na_sentinel=False)
    return codes.astype(np.int64), pd.Index([UNKNOWN if pd.isna(one) else one for one in found], dtype=object)


def _slips(
    y: np.ndarray, keep: np.ndarray, trait: str, summaries: pd.DataFrame
) -> tuple[np.ndarray, tuple[str, ...]]:
    """Which readings cannot be, and a sentence about each."""
    low, high = bounds(trait)
    infinite = keep & np.isinf(y)
    impossible = keep & ~infinite & ((y < low) | (y > high))
    sound = y[keep & ~infinite & ~impossible]
    far = np.zeros(len(y), dtype=bool)
    middle = 0.0
    if len(sound):
        middle = float(np.median(sound))
        # Readings nearly alike are no measure of spread: nothing within six times the middle is a slip.
        quarter, three = np.quantile(sound, [0.25, 0.75])
        spread = max(
            _NORMAL_MAD * float(np.median(np.abs(sound - middle))),
            (three - quarter) / _NORMAL_IQR,
            0.25 * abs(middle),
        )
        far = keep & ~infinite & ~impossible & (np.abs(y - middle) > FARTHEST * spread) & (spread > 0)
    samples = summaries["sample"] if "sample" in summaries else pd.Series(summaries.index.astype(str))
    label = trait_called(trait).label.lower()
    said = []
    for place in np.flatnonzero(infinite | impossible | far):
        who = f"Sample {samples.iloc[place]} of {summaries['cultivar'].iloc[place]}"
        if infinite[place]:
            why = "which is no number"
        elif impossible[place]:
            why = "which cannot be"
        else:
            why = (
                f"more than {FARTHEST:g} times the usual spread from the middle of all samples, {middle:.4g}"
            )
        said.append(f"{who} reads {y[place]:.6g} for {label}, {why}; it was set aside.")
    return infinite | impossible | far, tuple(said)
