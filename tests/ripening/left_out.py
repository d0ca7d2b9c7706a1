"""``python -m tests.ripening.left_out``: each season of the demo foretold from the others, given how the checks ran in it.

Beside the model: the raw mean of a cultivar's middles, and its mean difference from the main check put on that check's
middle of the season. The season's own shift is read off the checks alone, as one would know it early in a season.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.places import demo_data
from dashboard.ripening.model import ripening


def left_out(picks: pd.DataFrame, cultivars: pd.Index, checks: tuple[str, ...]) -> pd.DataFrame:
    """One row a cultivar × site × season seen in other seasons too: error in days by each way; checks left out."""
    frames = []
    for season in sorted(picks["season"].unique()):
        now, rest = picks[picks["season"] == season], picks[picks["season"] != season]
        ripe = ripening(rest, cultivars)
        own = rest.groupby("cultivar", observed=True)["middle"].mean()
        main = rest[rest["cultivar"] == checks[0]].set_index(["site", "season"])["middle"]
        beside = rest["middle"] - pd.Series(
            list(zip(rest["site"], rest["season"], strict=True)), rest.index
        ).map(main)
        apart = beside.groupby(rest["cultivar"], observed=True).mean()
        for site, here in now.groupby("site", observed=True):
            if site not in ripe.sites:
                continue
            middles, expected = here.set_index("cultivar")["middle"], ripe.windows(str(site))["middle"]
            seen = [name for name in checks if name in middles]
            if checks[0] not in seen:
                continue
            shift = (middles[seen] - expected[seen]).mean()
            names = [name for name in middles.index if name in own and name not in checks]
            frames.append(
                pd.DataFrame(
                    {
                        "model": expected[names] + shift - middles[names],
                        "days from check": apart.reindex(names) + middles[checks[0]] - middles[names],
                        "raw mean": own[names] - middles[names],
                        "seasons": rest.groupby("cultivar", observed=True)["season"].nunique()[names],
                    }
                )
            )
    return pd.concat(frames).dropna()


def main() -> None:
    demo = catalogues.load(demo_data())
    seen = demo.ripening.seen
    picks = seen.assign(cultivar=seen["cultivar"].astype(str), site=seen["site"].astype(str))
    found = left_out(picks, demo.cultivars.index, demo.checks)
    print(
        "other seasons of the cultivar | root mean square error in days: model, days from check, raw mean | how many"
    )
    for name, rows in (
        ("one", found["seasons"] == 1),
        ("two or three", found["seasons"].between(2, 3)),
        ("more", found["seasons"] > 3),
    ):
        errors = [
            np.sqrt(np.mean(np.square(found.loc[rows, way])))
            for way in ("model", "days from check", "raw mean")
        ]
        print(f"{name:14} | " + " ".join(f"{error:.2f}" for error in errors) + f" | {int(rows.sum())}")


if __name__ == "__main__":
    main()
