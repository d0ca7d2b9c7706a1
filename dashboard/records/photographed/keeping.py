"""What is kept of photographs: copies in the trial's own folder, and a sheet that says which sample they are of. No table is written over."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from pathlib import Path

import pandas as pd
import xlsxwriter

from dashboard.places import put
from dashboard.records.photos import FOLDER, PARTED
from dashboard.records.plain_text import AS_TEXT
from dashboard.records.problems import quoted, seen
from dashboard.records.schema import TABLES
from dashboard.records.writing import written

HEADINGS = ("sample", "cultivar", "site", "date", "date_precision", "photo")
_LONGEST = 200  # bytes of a file's name before its number; a disk takes 255
_RESERVED = re.compile(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\.|$)")  # names that Windows keeps, from memory


class Kept:
    """The copies of one run. ``names``: by sample those of its copies, in their order; ``instead``: what its cell calls them until now."""

    def __init__(self, root: Path) -> None:
        self.folder = root / FOLDER
        self.names: dict[str, list[str]] = {}
        self.instead: set[tuple[str, str]] = set()

    def keep(self, sample: str, original: str, copy: bytes, there: tuple[str, ...]) -> str:
        """Put a copy into the folder; gives back its name, that of its original where the sample's cell (``there``) names it already,
        and "" where another picture has that name.

        The same picture once more is the same file; nothing that is there is written over. OSError where it cannot be written.
        """
        as_it_was = original in there and original.lower().endswith((".jpg", ".jpeg"))
        if original in there and not as_it_was:
            self.instead.add((sample, original))
        number = 1
        while True:
            name = original if as_it_was else _file_name(sample, number)
            place = self.folder / name
            if not place.is_symlink() and not place.exists():
                self.folder.mkdir(parents=True, exist_ok=True)
                put(place, copy)
                break
            if place.is_file() and not place.is_symlink() and place.read_bytes() == copy:
                break
            if as_it_was:
                return ""
            number += 1
        mine = self.names.setdefault(sample, [])
        if name not in mine:
            mine.append(name)
        return name


def sheet(samples: pd.DataFrame, kept: Kept, known: Mapping[str, tuple[str, ...]]) -> tuple[bytes, list[str]]:
    """A workbook with a sheet ``samples`` for the samples whose cell ``photo`` is empty (b"" where there is none), and a sentence for
    each of the others that has more photographs than its cell names."""
    fill, told = [], []
    for sample, mine in kept.names.items():
        there = known[sample]
        new = [name for name in mine if name not in there]
        if not there:
            fill.append(sample)
        elif new:
            whole = f"{PARTED} ".join([*(one for one in there if (sample, one) not in kept.instead), *new])
            told.append(
                f"{quoted(sample)} names photographs already; write {seen(whole)} into its cell photo."
            )
    if not fill:
        return b"", told
    rows = samples[samples["sample"].astype(str).isin(fill)]
    photos = [f"{PARTED} ".join(kept.names[str(sample)]) for sample in rows["sample"]]
    frame = rows.assign(photo=pd.Series(photos, index=rows.index, dtype="str"))
    columns = [written(frame[name], TABLES["samples"].by_name[name]) for name in HEADINGS]
    made = io.BytesIO()
    with xlsxwriter.Workbook(made, AS_TEXT) as book:
        page = book.add_worksheet("samples")
        text = book.add_format({"num_format": "@"})
        for place, name in enumerate(HEADINGS):
            page.set_column(place, place, 24, text)
            page.write_string(0, place, name)
            for line, cell in enumerate(columns[place], 1):
                page.write_string(line, place, cell, text)
    return made.getvalue(), told


def _file_name(sample: str, number: int) -> str:
    """A name that every disk takes and that leads nowhere else, whatever the sample is called."""
    plain = "".join(letter if letter.isalnum() or letter in " -_." else "_" for letter in sample)
    plain = plain.encode("utf-8")[:_LONGEST].decode("utf-8", "ignore").strip(" .") or "sample"
    if _RESERVED.match(plain):
        plain = f"_{plain}"
    return f"{plain}{'' if number == 1 else f' {number}'}.jpg"
