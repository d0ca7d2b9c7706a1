"""The readers of what a person may hand over, each taking bytes; an exception here is a fault of the reader.

What each is tried with first are sound files, so that a change of a few bytes goes deep.
"""

from __future__ import annotations

import io
import json
import tempfile
import zipfile
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

from dashboard.market import MarketError
from dashboard.market.reading import market_of
from dashboard.places import MARKETS
from dashboard.records import RecordError
from dashboard.records.checking import checked
from dashboard.records.declaration import declared
from dashboard.records.findings import Findings
from dashboard.records.sources import read_source
from dashboard.visit import link as address
from dashboard.visit import saved_views as prepared
from tests.records.small import DECLARED, tables, write_folder, write_workbook

PARTS = (
    "xl/worksheets/sheet2.xml",
    "xl/sharedStrings.xml",
    "xl/workbook.xml",
    "xl/_rels/workbook.xml.rels",
    "xl/styles.xml",
)


def told(sentences: Iterable[str]) -> None:
    for sentence in sentences:
        assert sentence.isprintable(), ascii(sentence)


@cache
def _place() -> Path:
    return Path(tempfile.mkdtemp(prefix="read-"))


@cache
def _folder(name: str) -> Path:
    return write_folder(_place() / name, tables())


@cache
def _parts() -> dict[str, bytes]:
    book = write_workbook(_place() / "sound.xlsx", tables())
    with zipfile.ZipFile(book) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def _read(place: Path, *wanted: str) -> None:
    """What is written there, and the cells of the tables wanted."""
    try:
        source = read_source(place)
    except RecordError as refused:
        told(problem.sentence for problem in refused.problems)
        return
    declaration, faults = declared(source)
    told(problem.sentence for problem in [*source.problems, *faults])
    for name in set(wanted) & set(source.sheets):
        findings = Findings(source.sheets[name])
        checked(source.sheets[name], declaration, findings)
        told(problem.sentence for problem in findings.problems)


def comma_file(content: bytes) -> None:
    """The first byte says which table the rest is."""
    names = sorted(tables())
    folder = _folder("comma file")
    name = names[(content[:1] or b"\0")[0] % len(names)]
    sound = (folder / f"{name}.csv").read_bytes()
    (folder / f"{name}.csv").write_bytes(content[1:])
    _read(folder, name)
    (folder / f"{name}.csv").write_bytes(sound)


def workbook(content: bytes) -> None:
    """The first byte says which part of a workbook the rest is; beyond those, it is the whole file."""
    place = (content[:1] or b"\0")[0] % (len(PARTS) + 1)
    book = _place() / "book.xlsx"
    if place == len(PARTS):
        book.write_bytes(content[1:])
    else:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w") as packed:
            for name, part in (_parts() | {PARTS[place]: content[1:]}).items():
                packed.writestr(name, part)
        book.write_bytes(out.getvalue())
    _read(book, "cultivars")


def descriptor(content: bytes) -> None:
    (_folder("descriptor") / "datapackage.json").write_bytes(content)
    _read(_folder("descriptor"))


def market(content: bytes) -> None:
    try:
        market_of(content, "market.toml")
    except MarketError as fault:
        told([str(fault)])


def views(content: bytes) -> None:
    told(prepared.read(content)[1])


@cache
def _question():
    from dashboard.answers.catalogue import (
        load,  # for links alone: the model behind it takes a while to instrument
    )
    from dashboard.answers.question import Question, known_values

    asked = Question(load(_folder("link")))
    known = known_values(asked.catalogue)
    return known, {field: getattr(asked, field) for field in known}


def link(content: bytes) -> None:
    known, defaults = _question()
    choices, notes = address.read(content.decode("utf-8", "replace"), known, defaults)
    told(notes)
    again, faults = address.read(address.written(defaults | choices, defaults), known, defaults)
    assert faults == []
    assert again == {field: value for field, value in choices.items() if value != defaults[field]}


def _sound_tables() -> list[bytes]:
    folder = _folder("sound")
    return [
        bytes([place]) + (folder / f"{name}.csv").read_bytes() for place, name in enumerate(sorted(tables()))
    ]


def _sound_books() -> list[bytes]:
    whole = (_place() / "sound.xlsx").read_bytes() if _parts() else b""
    return [bytes([place]) + _parts()[name] for place, name in enumerate(PARTS)] + [
        bytes([len(PARTS)]) + whole
    ]


READERS: dict[str, tuple[Callable[[bytes], None], Callable[[], list[bytes]]]] = {
    "comma_file": (comma_file, _sound_tables),
    "workbook": (workbook, _sound_books),
    "descriptor": (descriptor, lambda: [json.dumps({"title": "T", "orchard_slate": DECLARED}).encode(),
                                        b'{"orchard_slate": {"ratings": {"red": {"low": 1, "high": 5, "best": 1}}}}']),
    "market": (market, lambda: [path.read_bytes() for path in sorted(MARKETS.glob("*.toml"))]),
    "views": (views, lambda: [prepared.written([prepared.View("A", "?v=1&seasons=2"), prepared.View("B", "?v=1")]).encode()]),
    "link": (link, lambda: [b"?v=1&seasons=2&flesh_colour=yellow,white&site=low&shortlist=Alvane"]),
}  # fmt: skip
