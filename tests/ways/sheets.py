"""Records written to files as people keep them: text files of any encoding, and rows of a workbook."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from xlsxwriter.worksheet import Worksheet

from tests.ways.samples import FRUIT, Sample

HEAD = ("Cultivar", "Site", "Date", "Fruit", "Suture (mm)", "Cross (mm)", "Firmness 1 (N)", "Firmness 2 (N)", "Brix")  # fmt: skip


def text_file(
    path: Path, head: Sequence[object], rows: Iterable[Sequence[object]], delimiter: str = ",", encoding: str = "utf-8", end: str = "\n", first: str = ""
) -> Path:  # fmt: skip
    lines = [*([first] if first else []), *(delimiter.join(map(str, row)) for row in (head, *rows)), ""]
    path.write_bytes(end.join(lines).encode(encoding))
    return path


def fruit_rows(
    samples: Iterable[Sample],
    day: Callable[[Sample], object] = lambda sample: sample.day.isoformat(),
    figure: Callable[[float], object] = float,
) -> list[list[object]]:
    """A row a fruit: cultivar, site, day, number, five figures."""
    return [
        [sample.cultivar, sample.site, day(sample), number, *(figure(float(value)) for value in row)]
        for sample in samples for number, row in enumerate(sample.figures, 1)
    ]  # fmt: skip


def side_by_side(sample: Sample) -> list[float]:
    """Ten fruit of each reading in turn."""
    return [float(value) for value in sample.figures.T.ravel()]


def grouped_head(sheet: Worksheet, top: int, first: int, groups: Sequence[str], merged: bool = True) -> None:
    """Groups, merged over F1 … F10, in the row ``top``, and the fruit below."""
    for place, group in enumerate(groups):
        left = first + FRUIT * place
        if merged:
            sheet.merge_range(top, left, top, left + FRUIT - 1, group)
        else:
            sheet.write(top, left, group)
    sheet.write_row(top + 1, first, [f"F{number}" for number in range(1, FRUIT + 1)] * len(groups))
