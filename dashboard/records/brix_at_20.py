"""Sugar brought to 20 °C, where a refractometer that does not correct for temperature read it at another.

The table beside this file is the older international one (1936); where each figure of it comes from stands in docs/methods.md.
It holds where zero was set at 20 °C. Who set zero with water of the day has taken its part for water off already: what is left is
the difference of the two. Where that is not known, nothing is corrected: the two differ by up to 0.7 °Brix.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings

AT_20, OF_THE_DAY, NOT_KNOWN = ZEROS = ("at 20 C", "water of the day", "not known")
ITEM, TEMPERATURE, SUGAR = "refractometer_zero", "juice_temp_c", "ssc_brix"
_TOLD = "juice_temp"  # whatever unit it was written in
COLDEST, WARMEST, SWEETEST = 10.0, 30.0, 30.0  # where the table ends
_STEP = 5.0  # °Brix from column to column; rows are 1 °C apart
_HOW = {
    AT_20: "Its zero was set at 20 °C. Sugar is brought to 20 °C where the juice's temperature is known.",
    OF_THE_DAY: "Its zero was set with water of the day. Sugar is brought to 20 °C where the juice's temperature is known.",
    NOT_KNOWN: "How its zero was set is not known. Sugar is as it was read.",
}


def zero(items: Mapping[str, object], tell) -> str:
    """How the zero was set, one of ZEROS, as declared in ``items``; what cannot be understood is told and not known."""
    said = " ".join(str(items.get(ITEM) or NOT_KNOWN).replace("°", "").casefold().split())
    found = next((one for one in ZEROS if one.casefold() == said), None)
    if found is None:
        tell(ITEM, items[ITEM], "does not say how zero was set, so sugar is left as it was read", "write at 20 C, water of the day or not known")  # fmt: skip
    return found or NOT_KNOWN


def sentence(compensated: bool, zero: str) -> str:
    """How sugar was read, for a reader of the figures."""
    does = "corrects for temperature" if compensated else "does not correct for temperature"
    said = f"The refractometer {does}."
    return said if compensated else f"{said} {_HOW[zero]}"


def correction(reading: np.ndarray, celsius: np.ndarray, zero: str) -> np.ndarray:
    """(n,) °Brix to be added to each reading (°Brix) of juice so warm (°C); NaN outside the table and where nothing is known."""
    celsius = np.round(celsius, 6)  # 86 °F is 30 °C, and not a little more
    inside = (celsius >= COLDEST) & (celsius <= WARMEST) & (reading >= 0) & (reading <= SWEETEST)
    down, across = np.where(inside, celsius - COLDEST, 0.0), np.where(inside, reading / _STEP, 0.0)
    added = _between(down, across)
    if zero == OF_THE_DAY:
        added = added - _between(down, np.zeros(len(across)))
    return np.where(inside & (zero != NOT_KNOWN), added, np.nan)


def in_each(reading: float = 12.0, celsius: float = 30.0) -> str:
    """What a reading would become, by how zero was set."""
    told = [reading + np.nan_to_num(correction(np.array([reading]), np.array([celsius]), one))[0] for one in ZEROS]  # fmt: skip
    return f"{reading:g} °Brix read at {celsius:g} °C → " + "; ".join(
        f"{one}: {value:.2f}" for one, value in zip(ZEROS, told, strict=True)
    )


@cache
def _table() -> np.ndarray:
    """(21, 7): a row a °C from 10 on, a column each 5 °Brix as read from 0 on."""
    return np.loadtxt(Path(__file__).with_suffix(".csv"), delimiter=",", skiprows=1)[:, 1:]


def _between(down: np.ndarray, across: np.ndarray) -> np.ndarray:
    """Linear in both between the four figures around each place, counted in rows and columns."""
    table = _table()
    row = np.minimum(down.astype(int), table.shape[0] - 2)
    column = np.minimum(across.astype(int), table.shape[1] - 2)
    below, right = down - row, across - column
    upper = table[row, column] * (1 - right) + table[row, column + 1] * right
    lower = table[row + 1, column] * (1 - right) + table[row + 1, column + 1] * right
    return upper * (1 - below) + lower * below


def bring_to_20(
    tables: dict[str, pd.DataFrame], by_table: Mapping[str, Findings], compensated: bool, zero: str
) -> None:
    """Put the sugar at 20 °C into the place of that of ``fruit`` and ``means``; what stays as it was read is told, a line a cause."""
    samples = tables["samples"]
    if compensated:
        _tell_unused(samples, by_table)
        return
    warm = samples.drop_duplicates("sample").set_index("sample")[TEMPERATURE]
    measured: set[str] = set()
    for name in ("fruit", "means", "beyond"):
        frame = tables[name][tables[name][SUGAR].notna().to_numpy()]
        if zero == NOT_KNOWN and len(frame):
            by_table[name].flag(
                1, SUGAR, "", f"stays as it was read: the refractometer does not correct for temperature, and {ITEM} is not known",
                "declare how zero was set: at 20 C, or water of the day",
            )  # fmt: skip
            return
        readings = frame[SUGAR].to_numpy(dtype=float)
        added = correction(readings, frame["sample"].map(warm).to_numpy(dtype=float), zero)
        tables[name] = tables[name].copy()
        tables[name].loc[frame.index, SUGAR] = readings + np.nan_to_num(added)
        for row, reading in zip(frame.index, readings, strict=True):
            if reading > SWEETEST:
                by_table[name].flag(row, SUGAR, f"{reading:g}", "is above 30 °Brix, where the temperature table ends, so it stays as it was read", "look whether it was misread")  # fmt: skip
        measured |= set(frame["sample"])
    _tell_where(samples[samples["sample"].isin(list(measured)).to_numpy()], by_table)


def _tell_unused(samples: pd.DataFrame, by_table: Mapping[str, Findings]) -> None:
    given = samples[TEMPERATURE].dropna()
    if len(given):
        by_table["samples"].flag(
            int(given.index[-1]), _TOLD, f"{given.iloc[-1]:.1f} °C",
            f"is not used, as in {len(given) - 1:,} other rows: the refractometer is declared to correct for temperature, so sugar stays as it was read",
            "declare temperature_compensated no if it does not",
        )  # fmt: skip


def _tell_where(samples: pd.DataFrame, by_table: Mapping[str, Findings]) -> None:
    """Of samples with sugar those whose temperature is missing, told once at the last of them, and each that the table does not reach."""
    celsius = samples[TEMPERATURE].round(6)
    missing = celsius.index[celsius.isna().to_numpy()]
    if len(missing):
        by_table["samples"].flag(
            missing[-1], _TOLD, "", f"is missing for {len(missing):,} of {len(samples):,} samples with sugar, which stays as it was read",
            "write how warm the juice was, not the air",
        )  # fmt: skip
    for row, degrees in celsius[((celsius < COLDEST) | (celsius > WARMEST)).to_numpy()].items():
        by_table["samples"].flag(
            int(str(row)), _TOLD, f"{degrees:.1f} °C", "is outside 10 to 30 °C, where the temperature table ends, so sugar stays as it was read",
            "look whether it was misread; let cold fruit warm up before it is read",
        )  # fmt: skip
