"""Answers kept on disk, so that a start with records seen before fits nothing.

One file holds every trait's answer, named by the version of the records and a hash of the code that made it: other
records or other code, other file. It is written beside its place and moved there in one step, so two starts at once
and a kill while writing leave a whole file or none; a file that cannot be read is ignored and written again. Plain
NumPy arrays and JSON, nothing that runs when it is read.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import sys
import zipfile
from collections.abc import Collection
from contextlib import suppress
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import scipy

from dashboard.estimates import worths
from dashboard.estimates.averages import COLUMNS
from dashboard.estimates.plan import Plan
from dashboard.estimates.relatives import Relatives
from dashboard.estimates.worth import Worth
from dashboard.places import PACKAGE, put

FOLDER = "ORCHARD_SLATE_CACHE"  # where to keep answers; "off" keeps none
KEPT = 24  # files, the newest
_CODE = ("mixed", "estimates", "records", "terms")
_ARRAYS = ("group", "seen", "usual", "pev", "own", "shared", "rough", "alike", "leans")
_PLAIN = (
    "trait",
    "variance",
    "variance_se",
    "at_zero",
    "level",
    "site_level",
    "seasons",
    "site_seasons",
    "pick_step",
    "pick_variance",
    "scatter",
    "judged",
    "clusters",
    "rough_at",
)
_NUMBERS = tuple(name for name in COLUMNS if name != "method")
_COUNTS = ("fruit", "samples", "sites", "seasons")


def stored_worths(
    version: str,
    summaries: pd.DataFrame,
    checks: Collection[str],
    relatives: Relatives | None = None,
    shapes: pd.Series | None = None,
) -> dict[str, Worth]:
    """``worths`` of the records of this ``version``, from disk where they were worked out before."""
    folder = cache_folder()
    if folder is None or not version:
        return worths(summaries, checks, relatives, shapes)
    place = folder / f"worths-{_name(version, checks)}.npz"
    found = read(place)
    if found is None:
        found = worths(summaries, checks, relatives, shapes)
        write(place, found)
    return found


def cache_folder() -> Path | None:
    """The user's cache folder for this project, whether or not it is there; None when nothing is to be kept."""
    named = os.environ.get(FOLDER, "")
    if named.lower() == "off":
        return None
    if named:
        return Path(named)
    if sys.platform == "win32":
        root = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
        return Path(root) / "orchard-slate" / "cache"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "orchard-slate"
    root = os.environ.get("XDG_CACHE_HOME", "")
    return (Path(root) if root and Path(root).is_absolute() else Path.home() / ".cache") / "orchard-slate"


def read(place: Path) -> dict[str, Worth] | None:
    """The answers in a file; None when it is not there or not whole."""
    try:
        with np.load(place, allow_pickle=False) as kept:
            arrays = {name: kept[name] for name in kept.files}
        told = json.loads(bytes(arrays.pop("told")).decode())
        return {trait: _unpacked(trait, about, arrays) for trait, about in told.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, EOFError, zipfile.BadZipFile):
        return None


def write(place: Path, found: dict[str, Worth]) -> None:
    """Keep the answers in a file. Where that cannot be done nothing is kept, which costs time alone."""
    arrays: dict[str, np.ndarray] = {}
    told = {trait: _packed(trait, worth, arrays) for trait, worth in found.items()}
    arrays["told"] = np.frombuffer(json.dumps(told).encode(), dtype=np.uint8)
    packed = io.BytesIO()
    np.savez(packed, allow_pickle=False, **arrays)
    with suppress(OSError):
        place.parent.mkdir(parents=True, exist_ok=True)
        put(place, packed.getvalue())
        _thin_out(place.parent)


@cache
def _code() -> str:
    """A hash of the code, and of the libraries, that the answers come from."""
    digest = hashlib.sha256(f"{np.__version__} {scipy.__version__} {pd.__version__}".encode())
    for name in _CODE:
        where = PACKAGE / name
        for path in sorted(where.rglob("*.py")) if where.is_dir() else [where]:
            digest.update(path.relative_to(PACKAGE).as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def _name(version: str, checks: Collection[str]) -> str:
    key = json.dumps([version, sorted(checks), _code()])
    return hashlib.sha256(key.encode()).hexdigest()[:32]


def _packed(trait: str, worth: Worth, arrays: dict[str, np.ndarray]) -> dict[str, Any]:
    for name in _ARRAYS:
        arrays[f"{trait}|{name}"] = getattr(worth, name)
    frames = {"": worth.values, **worth.at}
    for place, frame in enumerate(frames.values()):
        arrays[f"{trait}|values {place}"] = frame[list(_NUMBERS)].to_numpy(dtype=float)
    told = {name: getattr(worth, name) for name in _PLAIN}
    methods = [str(frame["method"].iloc[0]) if len(frame) else "" for frame in frames.values()]
    return {
        **told,
        "plan": asdict(worth.plan),
        "cultivars": worth.values.index.tolist(),
        "sites": list(worth.at),
        "methods": methods,
    }


def _unpacked(trait: str, told: dict[str, Any], arrays: dict[str, np.ndarray]) -> Worth:
    index = pd.Index(told.pop("cultivars"), name="cultivar", dtype="str")
    names, methods = ["", *told.pop("sites")], told.pop("methods")
    frames = {}
    for place, (site, method) in enumerate(zip(names, methods, strict=True)):
        numbers = dict(zip(_NUMBERS, arrays[f"{trait}|values {place}"].T, strict=True))
        numbers |= {name: numbers[name].astype(int) for name in _COUNTS}
        method_of_each = pd.array([method] * len(index), dtype="str")
        frames[site] = pd.DataFrame(numbers | {"method": method_of_each}, index=index)
    planned: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value for name, value in told.pop("plan").items()
    }
    told["at_zero"] = tuple(told["at_zero"])
    kept: dict[str, Any] = {name: arrays[f"{trait}|{name}"] for name in _ARRAYS}
    return Worth(plan=Plan(**planned), values=frames.pop(""), at=frames, **told, **kept)


def _thin_out(folder: Path) -> None:
    """Keep the newest files, and nothing of writers that were killed a day ago."""
    whole = sorted(folder.glob("worths-*.npz"), key=lambda path: path.stat().st_mtime, reverse=True)
    newest = whole[0].stat().st_mtime if whole else 0.0
    dead = [path for path in folder.glob(".writing-*.npz") if path.stat().st_mtime < newest - 86_400]
    for path in (*whole[KEPT:], *dead):
        path.unlink(missing_ok=True)
