"""Encodings, decimal commas, line ends: a file from each of five programs."""

from __future__ import annotations

from pathlib import Path

from tests.ways.names import SITES, cultivars
from tests.ways.samples import sampled, weekly
from tests.ways.sheets import HEAD, fruit_rows, text_file
from tests.ways.truth import of_samples
from tests.ways.way import Made, Way

NOTE = f"""{SITES[3]}, 2020, mm and N, 8 mm tip, refractometer corrects itself. Files from five programs: decimals stand behind a comma in all of them but
"plain.csv". The names have accents: Corvalé, Müntra, Señalda.
"""
_ACCENTED = ("Corvalé", "Müntra", "Señalda")
# By file: encoding, delimiter, line end, first line.
_FILES = {
    "marked.csv": ("utf-8-sig", ";", "\r\n", "sep=;"),
    "wide letters.txt": ("utf-16", "\t", "\r\n", ""),
    "old program.csv": ("windows-1252", ";", "\r\n", ""),
    "old ends.csv": ("utf-8", ";", "\r", ""),
    "old both.txt": ("windows-1252", "\t", "\r", ""),
    "plain.csv": ("utf-8", ",", "\n", ""),
}


def make(folder: Path, size: float) -> Made:
    names = [*_ACCENTED, *cultivars(max(2, round(12 * size)), 707)]
    weeks, samples = weekly(2020, len(_FILES)), []
    for day, (name, (encoding, delimiter, end, first)) in zip(weeks, _FILES.items(), strict=True):
        here = sampled(names, SITES[3:], [day], 7)
        mark = "." if name == "plain.csv" else ","
        rows = fruit_rows(here, figure=lambda value, mark=mark: f"{value:g}".replace(".", mark))
        text_file(folder / name, HEAD, rows, delimiter, encoding, end, first)
        samples += here
    return Made(of_samples(samples), {name: name for name in (*names, SITES[3])})


WAY = Way(
    "w07", "encodings, decimal commas", NOTE,
    (
        ("^encoding/", "windows-1252"), ("/decimals", ","),
            ),
    make,
)  # fmt: skip
