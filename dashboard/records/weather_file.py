"""One file of weather that somebody brings along: the table ``weather`` of one place, which needs no name in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pandas as pd

from dashboard.records.checking import checked
from dashboard.records.comma_files import sheet_in
from dashboard.records.declaration import Declaration
from dashboard.records.findings import Findings
from dashboard.records.keys import once
from dashboard.records.sheets import Sheet

LARGEST = 1_500_000  # bytes: a hundred years of days, or nine of hours
TOLD = 3  # faults that are told one by one
NEEDED = "write date, tmin_c and tmax_c (or tmin_f and tmax_f) in the first row"
_HERE = "here"


@dataclass(frozen=True, eq=False)
class WeatherFile:
    """``days``: date, hour, tmin_c, tmax_c, temp_c; ``told``: what was set aside, in sentences; ``refused``: why there is nothing."""

    days: pd.DataFrame
    told: tuple[str, ...] = ()
    refused: str = ""


def weather_file(raw: bytes, file: str) -> WeatherFile:
    """The weather in the bytes of a .csv file.

    Parameters
    ----------
    raw : bytes
        Comma, semicolon or tab between cells; headings as in the table ``weather``, the site left out or one and the same.
    file : str
        What it is called.

    Returns
    -------
    WeatherFile
        °C. One that ``refused``, in a sentence, where nothing can be read.
    """
    nothing = WeatherFile(pd.DataFrame())
    if len(raw) > LARGEST:
        return replace(nothing, refused=f"{file} has {len(raw) / 1e6:.1f} MB, more than the {LARGEST / 1e6:.1f} MB a weather file may be; bring fewer years.")  # fmt: skip
    sheet, faults = sheet_in(raw, file, "weather")
    if sheet is None:
        return replace(nothing, refused=faults[0].sentence)
    findings = Findings(_sited(sheet))
    frame = once(checked(findings.sheet, Declaration(), findings), "weather", findings)
    wrong = [one for one in (*faults, *findings.problems) if one.severity == "error"]
    if not len(frame) or frame[["tmin_c", "tmax_c", "temp_c"]].isna().to_numpy().all():
        why = wrong[0].sentence if wrong else f"{file} holds no temperatures; {NEEDED}."
        return replace(nothing, refused=why)
    if frame["site"].nunique() > 1:
        return replace(
            nothing,
            refused=f"{file} holds the weather of {frame['site'].nunique()} sites; bring one of them.",
        )
    told = [one.sentence for one in wrong[:TOLD]]
    if len(wrong) > TOLD:
        told.append(f"{len(wrong) - TOLD} more faults like these were set aside.")
    return WeatherFile(
        frame[["date", "hour", "tmin_c", "tmax_c", "temp_c"]].reset_index(drop=True), tuple(told)
    )


def read_weather(path: str | Path) -> WeatherFile:
    """``weather_file`` of a file on disk; one that refused where it cannot be opened."""
    try:
        with Path(path).open("rb") as file:
            raw = file.read(LARGEST + 1)
    except OSError as error:
        return WeatherFile(pd.DataFrame(), refused=f"{Path(path).name} cannot be opened ({error.strerror}).")
    return weather_file(raw, Path(path).name)


def _sited(sheet: Sheet) -> Sheet:
    """With a site, where the file names none: whoever brings it knows whose weather it is."""
    if any(heading.strip().casefold() == "site" for heading in sheet.headings):
        return sheet
    here = np.full(len(sheet), _HERE, dtype=object)
    return replace(sheet, headings=("site", *sheet.headings), cells=(here, *sheet.cells))
