"""The true figures, a row each, and how those of a trial stand to them, cell by cell."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.records import read
from dashboard.records.problems import Problem, RecordError
from tests.ways.samples import READINGS, Sample

KEY = [
    "cultivar",
    "site",
    "day",
    "fruit",
    "quantity",
]  # fruit 0: of the sample; no site and no day: of the cultivar
_CLOSE = 1e-6
_MEANS = ("n", "size_mm", "size_sd_mm", "firmness_n", "firmness_sd_n", "ssc_brix", "ssc_sd_brix")
_OF_SAMPLES = ("shape", "fuzz", "red", "attractiveness", "split_pit_pct", "cracked_tip_pct")
_OF_CULTIVARS = ("fruit_type", "flesh_colour", "acidity_class", "shape_type", "stone")


def of_samples(samples: Iterable[Sample], readings: bool = True) -> pd.DataFrame:
    """Cultivar, site, day, fruit, quantity, and the value in SI as text; classes as their word."""
    parts = []
    for sample in samples:
        if readings:
            si = sample.si
            count = len(si)
            parts.append(_part(sample.key, np.repeat(np.arange(1, count + 1), 5), np.tile(np.array(READINGS, dtype=object), count), si.ravel()))  # fmt: skip
        if sample.ratings:
            rated = sample.rated
            parts.append(_part(sample.key, np.zeros(len(rated), dtype=int), np.array([*rated], dtype=object), np.array([*rated.values()])))  # fmt: skip
    return pd.concat(parts, ignore_index=True)


def of_means(key: tuple[str, str, str], values: Mapping[str, float]) -> pd.DataFrame:
    told = {f"mean {name}" if name == "ssc_brix" else name: value for name, value in values.items()}
    return _part(key, np.zeros(len(told), dtype=int), np.array([*told], dtype=object), np.array([*told.values()], dtype=float))  # fmt: skip


def of_classes(classes: Mapping[str, Mapping[str, str]]) -> pd.DataFrame:
    """By quantity and cultivar its word."""
    rows = [(name, "", "", 0, quantity, np.nan, word) for quantity, words in classes.items() for name, word in words.items()]  # fmt: skip
    return pd.DataFrame(rows, columns=[*KEY, "value", "word"])


def _part(key: tuple[str, str, str], fruit: np.ndarray, quantity: np.ndarray, values: np.ndarray) -> pd.DataFrame:  # fmt: skip
    names = dict(zip(KEY[:3], key, strict=True))
    return pd.DataFrame({**names, "fruit": fruit, "quantity": quantity, "value": values, "word": ""})


@dataclass(frozen=True)
class Compared:
    """``wrong``: what stands in the trial and is not true, with what is; ``flagged``: those that the check points at; ``waits``: what is not there."""

    right: int
    wrong: pd.DataFrame
    flagged: pd.DataFrame
    waits: pd.DataFrame


def compared(truth: pd.DataFrame, trial: Path) -> Compared:
    there = held(trial)
    both = truth.merge(there, on=KEY, how="outer", suffixes=("", "_there"), indicator=True)
    in_both = both["_merge"] == "both"
    close = np.isclose(both["value"].astype(float), both["value_there"].astype(float), rtol=_CLOSE, atol=1e-9)
    same = in_both & (close | ((both["word"] == both["word_there"]) & (both["word"] != "")))
    wrong = both[(both["_merge"] == "right_only") | (in_both & ~same)]
    told = wrong["told"].fillna(False).astype(bool)
    return Compared(int(same.sum()), wrong[~told], wrong[told], both[both["_merge"] == "left_only"])


def held(trial: Path) -> pd.DataFrame:
    """What a trial holds, as the truth is written; ``told``: whether the check points at the row, or at the sample's column."""
    try:
        records = read(trial)
    except RecordError:  # nothing came in
        return pd.DataFrame(columns=[*KEY, "value", "word", "told"])
    tables = records.tables
    rows, columns = _pointed_at(records.problems)
    samples = tables["samples"]
    samples = samples.assign(day=samples["date"].dt.strftime("%Y-%m-%d"))
    parts = []
    for table, names in (("samples", _OF_SAMPLES), ("fruit", READINGS), ("means", _MEANS)):
        frame = tables.get(table)
        if frame is None or not len(frame):
            continue
        at = np.arange(len(frame)) + 2
        keys = frame[["sample"]].merge(samples[["sample", *KEY[:3]]], on="sample", how="left")
        fruit = frame["fruit"].to_numpy() if table == "fruit" else np.zeros(len(frame), dtype=int)
        pointed = np.array([(f"{table}.csv", int(row)) in rows for row in at])
        for name in names:
            if name not in frame:
                continue
            value = frame[name].to_numpy(dtype=float, na_value=np.nan)
            whole = np.array(
                [(sample, name) in columns or (sample, "") in columns for sample in frame["sample"]]
            )
            quantity = "mean ssc_brix" if table == "means" and name == "ssc_brix" else name
            part = keys[KEY[:3]].assign(fruit=fruit, quantity=quantity, value=value, word="", told=pointed | whole)  # fmt: skip
            parts.append(part[np.isfinite(value)])
    known = tables["cultivars"]
    for name in _OF_CULTIVARS:
        if name in known and (filled := known[known[name].notna()]) is not None and len(filled):
            parts.append(pd.DataFrame({"cultivar": filled["cultivar"], "site": "", "day": "", "fruit": 0, "quantity": name, "value": np.nan, "word": filled[name].astype(str), "told": False}))  # fmt: skip
    return pd.concat(parts, ignore_index=True)


def _pointed_at(problems: Iterable[Problem]) -> tuple[set[tuple[str, int]], set[tuple[str, str]]]:
    """Rows of the trial's files, and samples with a column, that the check tells something of."""
    rows, columns = set(), set()
    for one in problems:
        if one.row:
            rows.add((one.file, one.row))
        if one.whose and one.whose.sample and one.file in ("fruit.csv", "samples.csv"):
            columns.add((one.whose.sample, one.column))
    return rows, columns


def write_truth(path: Path, truth: pd.DataFrame) -> None:
    truth.to_csv(path, index=False)


def read_truth(path: Path) -> pd.DataFrame:
    return pd.read_csv(path, dtype=dict.fromkeys((*KEY[:3], "quantity", "word"), str), keep_default_na=False, na_values={"value": [""]})  # fmt: skip
