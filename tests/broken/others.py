"""Rules that break the descriptor of a folder, and rules that break the demo workbook."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from random import Random

DESCRIPTORS: dict[str, Callable[[Random], bytes]] = {
    "no JSON": lambda chance: chance.choice((b"{", b"", b"\xff\xfe{", b"[]", b"null", b"nan", b"5", b'"x"')),
    "too large": lambda chance: b'{"orchard_slate": [' + b"1," * 20_000_000 + b"1]}",
    "too deep": lambda chance: b'{"a":' * chance.choice((30, 900, 90_000)) + b"1",
    "lists in lists": lambda chance: b'{"orchard_slate": {"ratings": ' + b"[" * 900 + b"]" * 900 + b"}}",
    "other kinds": lambda chance: json.dumps({"title": _any(chance), "orchard_slate": {
        name: _any(chance) for name in ("tip_mm", "ratings", "seasons", "invented", "region", "title", "full_bloom_open_pct")}}).encode(),
    "no items": lambda chance: json.dumps({"orchard_slate": _any(chance)}).encode(),
}  # fmt: skip


def _any(chance: Random):
    return chance.choice(
        (
            None,
            True,
            -1,
            1e308,
            10**400,
            "x" * 5000,
            [],
            {},
            [[]],
            ["a", 1],
            [2024, 2018],
            float("nan"),
            "\ud800",
            {"": {}},
        )
    )


Member = Callable[[bytes, Random], bytes]
_MAIN = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'


def _rows_added(rows: bytes) -> Member:
    return lambda content, chance: content.replace(b"</sheetData>", rows + b"</sheetData>")


def _cell(at: bytes) -> bytes:
    return b"<row r='%d'><c r='%s'><v>1</v></c></row>" % (int(at.lstrip(b"ABCDEFGHIJKLMNOPQRSTUVWXYZ")), at)


def _entities(content: bytes, chance: Random) -> bytes:
    doctype = b'<!DOCTYPE a [<!ENTITY a "' + b"x" * 1000 + b'">' + b"".join(
        b'<!ENTITY %c "%s">' % (98 + level, b"&%c;" % (97 + level) * 10) for level in range(9)) + b"]>"  # fmt: skip
    return doctype + b"<worksheet " + _MAIN + b"><a>&j;</a></worksheet>"


# Part of the workbook, and what becomes of it.
WORKBOOKS: dict[str, tuple[str, Member]] = {
    "far cell": ("xl/worksheets/sheet4.xml", _rows_added(_cell(b"Z1000000"))),
    "farthest cell": ("xl/worksheets/sheet4.xml", _rows_added(_cell(b"XFD1048576"))),
    "farther than there is": ("xl/worksheets/sheet4.xml", _rows_added(_cell(b"ZZZ9999999"))),
    "far cell disguised": ("xl/worksheets/sheet4.xml", _rows_added(b"<row><c r='&#88;FD1048576'><v>1</v></c></row>")),
    "far cell unnamed": ("xl/worksheets/sheet4.xml", _rows_added(b"<row r='1048576'>" + b"<c/>" * 16_000 + b"<c><v>1</v></c></row>")),
    "many short strings": ("xl/sharedStrings.xml", lambda content, chance: b"<sst " + _MAIN + b">" + b"<si/>" * 2_500_000 + b"</sst>"),
    "strings unpacked": ("xl/sharedStrings.xml", lambda content, chance: b"<sst " + _MAIN + b"><si><t>" + b"x" * 90_000_000 + b"</t></si></sst>"),
    "one long string": ("xl/sharedStrings.xml", lambda content, chance: content.replace(b"<t>", b"<t>" + b"x" * 33_000, 1)),
    "long strings": ("xl/sharedStrings.xml", lambda content, chance: content.replace(b"<t>", b"<t>" + b"x <" [:2] * 9_000, 30)),
    "entities": ("xl/worksheets/sheet4.xml", _entities),
    "long comment": ("docProps/app.xml", lambda content, chance: b"<a><!--" + chance.randbytes(4_000_000).hex().encode() + b"--></a>"),
    "many cells": ("xl/worksheets/sheet4.xml", lambda content, chance: b"<worksheet " + _MAIN + b"><sheetData>" + b"".join(
        b"<row>" + b"<c><v>%d</v></c>" % chance.randrange(9999) * 50 + b"</row>" for _ in range(130_000)) + b"</sheetData></worksheet>"),
    "no XML": ("xl/worksheets/sheet4.xml", lambda content, chance: chance.randbytes(5000)),
    "cut": ("xl/worksheets/sheet4.xml", lambda content, chance: content[: chance.randrange(len(content))]),
    "no strings": ("xl/sharedStrings.xml", lambda content, chance: b"<sst " + _MAIN + b"/>"),
    "other names": ("xl/workbook.xml", lambda content, chance: content.replace(b'name="fruit"', b'name="%s"' % chance.choice((b"Obst", b"fruits", b"&lt;b&gt;", b"FRUIT")))),
    "relations": ("xl/_rels/workbook.xml.rels", lambda content, chance: content.replace(b"worksheets/sheet4.xml", chance.choice((b"styles.xml", b"../docProps/app.xml", b"nowhere.xml", b"media/x.png")))),
    "macros": ("xl/vbaProject.bin", lambda content, chance: b"x"),
}  # fmt: skip


def rewritten(book: Path, part: str, change: Member, chance: Random) -> None:
    """The workbook with one of its parts changed, or added where it is not there."""
    with zipfile.ZipFile(book) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    parts[part] = change(parts.get(part, b""), chance)
    with zipfile.ZipFile(book, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in parts.items():
            packed.writestr(name, content)


def _many_parts(book: Path, chance: Random) -> None:
    with zipfile.ZipFile(book, "a") as packed:
        for number in range(40_000):
            packed.writestr(f"xl/media/{number}", b"")


def _flipped(book: Path, chance: Random) -> None:
    raw = bytearray(book.read_bytes())
    for _ in range(chance.choice((1, 5, 100))):
        raw[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
    book.write_bytes(raw)


def _cut(book: Path, chance: Random) -> None:
    raw = book.read_bytes()
    book.write_bytes(raw[: chance.randrange(len(raw))])


FILES: dict[str, Callable[[Path, Random], None]] = {
    "many parts": _many_parts,
    "flipped": _flipped,
    "cut": _cut,
    "empty": lambda book, chance: book.write_bytes(b"") and None,
    "old": lambda book, chance: book.write_bytes(b"\xd0\xcf\x11\xe0" + bytes(5000)) and None,
    "text": lambda book, chance: book.write_bytes(b"sample,fruit\n" * 100) and None,
}
