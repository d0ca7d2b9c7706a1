"""The photograph of a sample: only a picture file below the records' own folder, and only a small one.

What stands in the column ``photo`` is text from records: it may name another file of the machine, an address or a link that
leads out. None of these is opened.
"""

from __future__ import annotations

import base64
from pathlib import Path

import pandas as pd

FOLDER = "photos"  # beside the tables; a name may also give the way from the tables' own folder
LARGEST = 2_000_000  # bytes
# By ending: what it is called on the web, and how such a file begins (ISO/IEC 10918-1; ISO/IEC 15948), from memory.
KINDS = {
    ".jpg": ("image/jpeg", b"\xff\xd8\xff"),
    ".jpeg": ("image/jpeg", b"\xff\xd8\xff"),
    ".png": ("image/png", b"\x89PNG\r\n\x1a\n"),
}


def photographs(samples: pd.DataFrame) -> pd.DataFrame:
    """The samples with a photograph: cultivar, site, date (missing where only the year is known), photo; newest first."""
    dated = samples.assign(date=samples["date"].mask(samples["date_precision"] == "year"))
    kept = dated.loc[samples["photo"].notna().to_numpy(dtype=bool), ["cultivar", "site", "date", "photo"]]
    return kept.sort_values("date", ascending=False, kind="stable", ignore_index=True)


def located(source: str, name: str) -> Path | None:
    """The picture file that ``name`` means among the records at ``source`` (a folder, or a workbook); None for none."""
    if not source or not name.isprintable() or any(mark in name for mark in ":\\"):
        return None
    try:
        root = Path(source).resolve()
        root = root if root.is_dir() else root.parent
        for written in (root / FOLDER / name, root / name):
            path = written.resolve()
            if path.is_relative_to(root) and path.suffix.lower() in KINDS and path.is_file():
                return path
    except OSError:  # a name longer than a file's may be, a folder that may not be read
        pass
    return None


def embedded(path: Path) -> str:
    """The picture as text that a page carries in itself; "" where it is too large, or no such picture after all."""
    kind, start = KINDS[path.suffix.lower()]
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError:
        return ""
    if len(content) > LARGEST or not content.startswith(start):
        return ""
    return f"data:{kind};base64,{base64.b64encode(content).decode('ascii')}"
