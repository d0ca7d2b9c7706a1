"""An answer as a data frame that knows what it says, on what it rests, and what to be careful about."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, ClassVar

import pandas as pd

from dashboard.calls import leaving
from dashboard.calls.by_name import ByName
from dashboard.calls.reading import Decimals, page
from dashboard.calls.understood import AskError, plainly


class Table(ByName):
    """A pandas data frame with its answer in sentences, its evidence and its cautions.

    It is yours: write into it, take rows, save it; the records stay as they are. Rows and columns taken from it keep what it says.
    Units stand in the names of columns, and ``_low`` and ``_high`` are the ends of a likely range.
    """

    _metadata: ClassVar[list[str]] = ["_drawn"]
    _drawn: Callable[..., Any] | None = None

    @property
    def _constructor(self) -> type[Table]:
        return Table

    @property
    def said(self) -> tuple[str, ...]:
        """The answer in sentences, the most important first."""
        return tuple(self.attrs.get("said", ()))

    @property
    def evidence(self) -> tuple[str, ...]:
        """On what the figures rest: buyer, filters, method, records, intervals; a sentence each."""
        return tuple(self.attrs.get("evidence", ()))

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to be careful about; a sentence each."""
        return tuple(self.attrs.get("cautions", ()))

    @plainly
    def picture(self, *traits: str) -> Any:
        """The answer drawn, as on the page: a HoloViews element that holds its figures.

        Parameters
        ----------
        *traits : str
            For a ranking the two traits that are set against each other, across and up; size and sugar without.

        Returns
        -------
        holoviews.Dimensioned
            It shows itself in Jupyter, and can be laid over and beside other elements.

        Raises
        ------
        AskError
            This answer has no picture, or a trait is not there.
        """
        if self._drawn is None:
            raise AskError("There is no picture of this answer; it is told in words and figures.")
        return self._drawn(self, *traits)

    @plainly
    def arrow(self) -> Any:
        """The answer for programs that read Arrow: every field with its heading and unit, the whole with what it says.

        Returns
        -------
        pyarrow.Table
            The rows' names are its first column.

        Raises
        ------
        AskError
            pyarrow is not installed.
        """
        return leaving.arrow(self)

    @plainly
    def parquet(self, place: str | Path) -> None:
        """Write the same as a Parquet file.

        Parameters
        ----------
        place : str or Path
            The file, such as "answer.parquet".

        Raises
        ------
        AskError
            pyarrow is not installed, or the file cannot be written.
        """
        leaving.parquet(self, place)

    @plainly
    def package(self, place: str | Path) -> None:
        """Write a data package: a folder with ``answer.csv`` and ``datapackage.json``, which tells each column's heading, type and unit.

        Parameters
        ----------
        place : str or Path
            The folder; made where it is missing.

        Raises
        ------
        AskError
            The folder cannot be written.
        """
        leaving.package(self, place)

    def _repr_html_(self) -> str:
        """The answer first, then the figures as they are read, then on what they rest."""
        known = self.attrs
        rest = (*self.evidence, *self.cautions)
        return str(page(self, known.get("headings", {}), self.said, rest, known.get("rows", len(self))))


def answered(
    frame: pd.DataFrame,
    *,
    said: Iterable[str] = (),
    evidence: Iterable[str] = (),
    cautions: Iterable[str] = (),
    headings: dict[str, tuple[str, Decimals]] | None = None,
    drawn: Callable[..., Any] | None = None,
) -> Table:
    """``headings``: by column what a reader sees over it, and how many decimals."""
    table = Table(frame)
    table.attrs = {
        "said": list(said),
        "evidence": list(evidence),
        "cautions": list(cautions),
        "rows": len(frame),
        "headings": {name: list(one) for name, one in (headings or {}).items()},
    }
    table._drawn = drawn
    return table
