"""Who is in the trial: the class facts of every cultivar, what a breeder would know, and when each came in."""

from __future__ import annotations

import numpy as np
import pandas as pd

from generator.names import cultivar_names
from generator.truth import ripening_days

CHECK_DAYS = (176.0, 197.0, 213.0, 235.0)  # the four checks span the season
CHECK_TYPES = ("peach", "peach", "nectarine", "peach")
CHECK_CLASS = {
    "flesh_colour": "yellow",
    "acidity_class": "normal",
    "shape_type": "round",
    "flesh_texture": "melting",
}
RELEASED = 0.45
NEVER = 9999
# Share of blanks per class fact; stone is noted last and forgotten most.
BLANKS = {
    "flesh_colour": 0.02,
    "acidity_class": 0.08,
    "shape_type": 0.03,
    "flesh_texture": 0.08,
    "stone": 0.14,
}


def _either(rng: np.random.Generator, share: np.ndarray | float, count: int, yes: str, no: str) -> np.ndarray:
    return np.where(rng.random(count) < share, yes, no)


def entry_years(rng: np.random.Generator, count: int, seasons: list[int], own_blocks: int) -> np.ndarray:
    """First bearing season of each cultivar, in order of entry; checks first, block-only cultivars last.

    Three in ten stood in the station when the records begin, the rest came in about equal yearly cohorts; a
    few are planted and have not borne yet.
    """
    standing, unborn = round(0.294 * count), max(2, count // 58)
    checks = np.full(len(CHECK_DAYS), seasons[0] - 6)
    old = np.sort(seasons[0] - rng.integers(0, 5, standing))
    coming = count - len(checks) - standing - unborn
    cohorts = np.repeat(seasons[1:], coming // (len(seasons) - 1))
    cohorts = np.sort(np.append(cohorts, rng.choice(seasons[1:], coming - len(cohorts))))
    young = np.full(unborn, seasons[-1] + 1)
    blocks = rng.integers(seasons[0], seasons[-1], own_blocks)
    return np.concatenate([checks, old, cohorts, young, blocks])


def cultivars(rng: np.random.Generator, entry: np.ndarray) -> tuple[pd.DataFrame, np.ndarray]:
    """Every cultivar with all its facts (nothing missing yet), and its true ripening day."""
    count = len(entry)
    table = pd.DataFrame({"cultivar": np.full(count, "")})
    flat = rng.random(count) < 0.07
    table["fruit_type"] = _either(rng, np.where(flat, 0.75, 0.62), count, "peach", "nectarine")
    white = rng.random(count) < np.where(flat, 0.65, 0.275)
    table["flesh_colour"] = np.where(white, "white", np.where(rng.random(count) < 0.035, "red", "yellow"))
    table["acidity_class"] = _either(rng, np.where(white, 0.68, 0.065), count, "low", "normal")
    table["shape_type"] = np.where(flat, "flat", "round")
    yellow_peach = (table["fruit_type"] == "peach") & ~white & ~flat
    texture = rng.random(count)
    hard = np.where(yellow_peach, 0.31, 0.12)
    table["flesh_texture"] = np.where(
        texture < hard, "non-melting", np.where(texture > 0.93, "stony hard", "melting")
    )
    for row, fruit_type in enumerate(CHECK_TYPES):
        table.loc[row, list(CHECK_CLASS)] = list(CHECK_CLASS.values())
        table.loc[row, "fruit_type"] = fruit_type
    days = ripening_days(rng, table)
    days[: len(CHECK_DAYS)] = CHECK_DAYS
    _add_stone(rng, table, days)
    portions = np.clip(rng.normal(52, 9, count), 22, 75)
    table["chill_requirement_h"] = (
        np.clip(portions * 15.5 + rng.normal(0, 45, count), 250, 1250) / 25
    ).round() * 25
    table["chill_requirement_cp"] = portions.round()
    spot = 2.1 + 0.3 * (table["fruit_type"] == "nectarine") + rng.normal(0, 1.1, count)
    table["bacterial_spot"] = np.clip(spot, 0, 5).round()
    is_check = np.arange(count) < len(CHECK_DAYS)
    # What came in early has mostly been released since; some of the newest come from elsewhere, with a name.
    standing = np.where(is_check, np.inf, -0.16 * (entry - entry.min()) + rng.logistic(size=count))
    released = standing >= np.quantile(standing, 1 - RELEASED)
    table["status"] = np.where(released, "released", "numbered selection")
    guarded = np.where(released, 0.47, 0.16)
    table["protected"] = np.where(is_check, "no", _either(rng, guarded, count, "yes", "no"))
    table["check"] = np.where(is_check, "yes", "no")
    table["note"] = None
    table["cultivar"] = cultivar_names(rng, released, entry - rng.integers(4, 7, count))
    return table, days


def _add_stone(rng: np.random.Generator, table: pd.DataFrame, days: np.ndarray) -> None:
    """Early fruit clings, late fruit comes free; non-melting flesh clings whenever it ripens."""
    cling = np.select([days < 186, days < 204], [0.72, 0.20], 0.12)
    semi = np.select([days < 186, days < 204], [0.24, 0.45], 0.15)
    clings = (table["flesh_texture"] == "non-melting").to_numpy()
    cling, semi = np.where(clings, 0.88, cling), np.where(clings, 0.08, semi)
    drawn = rng.random(len(table))
    table["stone"] = np.where(drawn < cling, "cling", np.where(drawn < cling + semi, "semi-free", "free"))


def as_written(rng: np.random.Generator, table: pd.DataFrame) -> pd.DataFrame:
    """The cultivar table as somebody wrote it down: facts missing here and there, a few notes."""
    written = table.copy()
    known = (table["check"] == "yes").to_numpy()
    selection = (table["status"] == "numbered selection").to_numpy()
    for column, share in BLANKS.items():
        written.loc[(rng.random(len(table)) < share) & ~known, column] = None
    for column, blank in (
        ("chill_requirement_h", 0.22),
        ("chill_requirement_cp", 0.35),
        ("bacterial_spot", 0.06),
    ):
        lost = rng.random(len(table)) < np.where(selection, blank + 0.15, blank)
        written[column] = written[column].astype("Int64")
        written.loc[lost & ~known, column] = pd.NA
    notes = np.array(
        ["blooms early", "heavy thinner needed", "upright tree", "drops when ripe", "showy bloom"]
    )
    noted = rng.random(len(table)) < 0.08
    written.loc[noted, "note"] = rng.choice(notes, noted.sum())
    return written
