"""The photographs of a sample: only picture files below the records' own folder.

What stands in the column ``photo`` is text from records: it may name another file of the machine, an address or a link that
leads out. None of these is opened. Where there are several photographs, a semicolon parts them.
"""

from __future__ import annotations

import base64
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from pathlib import Path

import pandas as pd

from dashboard.places import is_address
from dashboard.records.causes import FEW
from dashboard.records.findings import Findings
from dashboard.records.pictures import PictureError, cleaned, look_at
from dashboard.records.problems import named_rows

FOLDER = "photos"  # beside the tables; a name may also give the way from the tables' own folder
PARTED = ";"
ENDINGS = (".jpg", ".jpeg", ".png")
REMEMBERED = 64  # pictures ready to be shown, of about a tenth of a megabyte each
_OTHER_KINDS = (".heic", ".heif", ".webp", ".tif", ".tiff", ".gif", ".bmp")  # pictures that are not shown


def photographs(samples: pd.DataFrame) -> pd.DataFrame:
    """One row a photograph: cultivar, site, date (missing where only the year is known), photo; the newest sample first, those of
    one sample as they are written."""
    dated = samples.assign(date=samples["date"].mask(samples["date_precision"] == "year"))
    kept = dated.loc[samples["photo"].notna().to_numpy(dtype=bool), ["cultivar", "site", "date", "photo"]]
    kept = kept.sort_values("date", ascending=False, kind="stable", ignore_index=True)
    names = pd.Series([_names(cell) for cell in kept["photo"]], index=kept.index, dtype=object)
    kept = kept.assign(photo=names).explode("photo", ignore_index=True)
    return kept.dropna(subset="photo", ignore_index=True).astype({"photo": "str"})


def located(source: str, name: str) -> Path | None:
    """The picture file that ``name`` means among the records at ``source`` (a folder, or a workbook); None for none.

    An ending in capitals is the same ending.
    """
    if not source or not name.isprintable() or any(mark in name for mark in ":\\") or is_address(source):
        return None
    try:
        root = Path(source).resolve()
        root = root if root.is_dir() else root.parent
        for written in (folder / one for folder in (root / FOLDER, root) for one in _endings(name)):
            path = written.resolve()
            if path.is_relative_to(root) and path.suffix.lower() in ENDINGS and path.is_file():
                return path
    except (
        OSError,
        RuntimeError,
    ):  # a name longer than a file's may be, a folder not to be read, a link to itself
        pass
    return None


def embedded(path: Path) -> str:
    """The picture, cleaned, as text that a page carries in itself; "" where it cannot be shown. Remembered while the file is as it was."""
    try:
        about = path.stat()
    except OSError:
        return ""
    return _embedded(path, about.st_size, about.st_mtime_ns)


@lru_cache(maxsize=REMEMBERED)
def _embedded(path: Path, _size: int, _changed: int) -> str:
    try:
        return f"data:image/jpeg;base64,{base64.b64encode(cleaned(path)).decode('ascii')}"
    except PictureError:
        return ""


def suspect_photos(samples: pd.DataFrame, source: str, findings: Findings, thorough: bool = False) -> None:
    """Flag photographs that are not there or cannot be shown; every pixel is looked at only where ``thorough``, for that takes a
    tenth of a second each."""
    faults: dict[str, PictureError | None] = {}
    lost: list[tuple[int, str]] = []
    look: Callable[[Path], object] = cleaned if thorough else look_at
    for row, name in _written(samples):
        path = located(source, name)
        if path is None:
            lost.append((row, name))
            continue
        if name not in faults:
            faults[name] = _fault(look, path)
            if fault := faults[name]:
                findings.flag(row, "photo", name, fault.rule, fault.suggestion)
    _tell_lost(
        [one for one in lost if not _other_kind(one[1])], "put it there, or correct its name", findings
    )
    _tell_lost([one for one in lost if _other_kind(one[1])], "save it as .jpg, and write that name", findings)


def _tell_lost(lost: list[tuple[int, str]], suggestion: str, findings: Findings) -> None:
    """A few one by one; more, as of a folder that was left behind, at the first of them with the rows of the others."""
    rule = f"is no {', '.join(ENDINGS[:-1])} or {ENDINGS[-1]} file in the folder {FOLDER} beside the records"
    if len(lost) > FEW:
        others = named_rows(list(dict.fromkeys(row for row, _ in lost[1:])))
        rule += f", and neither are {len(lost) - 1:,} others ({others})"
        lost = lost[:1]
    for row, name in lost:
        findings.flag(row, "photo", name, rule, suggestion)


def _other_kind(name: str) -> bool:
    return Path(name).suffix.lower() in _OTHER_KINDS


def _written(samples: pd.DataFrame) -> Iterator[tuple[int, str]]:
    for row, cell in samples["photo"].dropna().items():
        yield from ((row, name) for name in _names(cell))  # type: ignore[misc]


def _fault(look: Callable[[Path], object], path: Path) -> PictureError | None:
    try:
        look(path)
    except PictureError as fault:
        return fault
    return None


def _names(cell: str) -> list[str]:
    return [name.strip() for name in str(cell).split(PARTED) if name.strip()]


def _endings(name: str) -> Iterable[str]:
    stem, dot, ending = name.rpartition(".")
    return dict.fromkeys((name, f"{stem}{dot}{ending.lower()}", f"{stem}{dot}{ending.upper()}"))
