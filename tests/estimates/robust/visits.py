"""Ripe fruit seen on visits only: the picking days of ``harvests``, of which records keep the visits on which fruit was ripe.

The first ripe day is the first whole day on which a visit would have found ripe fruit, the last one likewise.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pandas as pd

from dashboard.ripening.cover import draws, picking
from dashboard.ripening.model import ANY, ripening
from dashboard.ripening.this_week import this_week
from dashboard.ripening.visits import ripe_days
from tests.estimates.robust.harvests import SITES, Harvest, harvest

HERE = SITES[0]
SPAN = (160.0, 260.0)
LIST, LISTS = 6, 4  # cultivars a list, lists a data set
EVERY = (3, 5, 7)


def whole(days: pd.DataFrame) -> pd.DataFrame:
    """Whole days on which fruit that is ripe from one real number to another is found."""
    return pd.DataFrame({"first": np.ceil(days["first"]), "last": np.floor(days["last"])})


def judged(made: Harvest, picks: pd.DataFrame, seed: int) -> dict[str, float]:
    """Of one data set: how much longer ripe days are told than they are, how often their ends hold in an ordinary and in a coming
    season, and days without fruit of lists of ``LIST``: told, come, and mean square error of the chance of fruit by day."""
    ripe = ripening(picks, made.ordinary.index)
    usual = ripe.windows(HERE).loc[ripe.known]
    true = made.ordinary.loc[usual.index]
    first, last = true["first"] + 0.5, true["last"] - 0.5  # on average a whole day comes half a day after
    ends = ripe.windows(HERE, ANY).loc[usual.index]
    coming = whole(made.coming.loc[usual.index])
    drawn, random = draws(ripe, HERE, ANY, 400), np.random.default_rng(seed)
    told, came, square = [], [], []
    for _ in range(LISTS):
        names = list(random.choice(usual.index, LIST, replace=False))
        columns = drawn.of(names)
        chance = (picking(drawn.first[:, columns], drawn.last[:, columns], SPAN) > 0).mean(axis=0)
        fruit = picking(*(coming.loc[names, end].to_numpy()[None] for end in ("first", "last")), SPAN)[0] > 0
        told.append((1 - chance).sum())
        came.append((~fruit).sum())
        square.append(np.square(chance - fruit).mean())
    return {
        "longer by": (usual["last"] - usual["first"] - (last - first)).mean(),
        "first held": usual["first_low"].le(first).mul(first.le(usual["first_high"])).mean(),
        "last held": usual["last_low"].le(last).mul(last.le(usual["last_high"])).mean(),
        "next season": ((ends["not_before"] <= coming["first"]) & (coming["last"] <= ends["not_after"])).mean(),
        "bare told": float(np.mean(told)),
        "bare came": float(np.mean(came)),
        "square error": float(np.mean(square)),
    }  # fmt: skip


def compared(every: int, seasons: int, sets: range) -> tuple[pd.Series, pd.Series]:
    """The means of ``judged`` with visits taken for ripe days, and with ripe days between visits."""
    before, after = [], []
    for seed in sets:
        made = harvest(seasons, seed, every=every)
        before.append(judged(made, made.picks, seed))
        after.append(judged(made, ripe_days(made.found), seed))
    return pd.DataFrame(before).mean(), pd.DataFrame(after).mean()


def week(every: int, seasons: int, sets: range) -> tuple[float, float]:
    """Mean square error of this week's chances that fruit is ripe on a day of it, walking weekly: visits taken for ripe days, and
    ripe days between visits. Who was not picked so far, and who was, alike."""
    errors: tuple[list[float], list[float]] = [], []
    for seed in sets:
        made = harvest(seasons, seed, every=every)
        names, coming = made.ordinary.index, whole(made.coming)
        between = ripe_days(made.found)
        models = ripening(made.picks, names), ripening(between, names)
        for today in np.arange(180.0, 230.0, 7.0):
            visits = np.arange(today - every * 20, today + 0.5, every)  # the last of them today
            seen = [
                (name, day)
                for name in names
                for day in visits
                if coming["first"][name] <= day <= coming["last"][name]
            ]
            found = pd.DataFrame(seen, columns=["cultivar", "day"]).assign(site=HERE, season=1)
            plain = found.groupby("cultivar")["day"].agg(first="min", last="max").reset_index()
            ripe_from = ripe_days(pd.concat([found, made.found])).query("season == 1").set_index("cultivar")
            exact = plain.assign(
                ripe=ripe_from["first"].reindex(plain["cultivar"]).to_numpy(),
                ripe_off=ripe_from["first_off"].reindex(plain["cultivar"]).to_numpy(),
            )
            ripe_then = (coming["first"] <= today + 6) & (coming["last"] >= today)
            for told, ripe, picked, looked in zip(errors, models, (plain, exact), (None, today), strict=True):
                chance = this_week(ripe, picked, HERE, today, looked=looked).rows["chance"]
                told += np.square(chance - ripe_then.reindex(chance.index)).dropna().tolist()
    return float(np.mean(errors[0])), float(np.mean(errors[1]))


def rows(count: int) -> Iterator[str]:
    for seasons in (3, 8):
        for every in EVERY:
            told = compared(every, seasons, range(count))
            for way, found in zip(("before", "after"), told, strict=True):
                yield f"every {every} days, {seasons} seasons, {way}: " + ", ".join(
                    f"{name} {value:.3f}" for name, value in found.items()
                )
            yield "  this week, mean square error: {:.4f}, {:.4f}".format(
                *week(every, seasons, range(count // 3))
            )
