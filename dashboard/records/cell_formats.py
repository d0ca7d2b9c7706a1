"""Cells of a workbook that show something else than the value they hold: a per cent, a formula nobody has worked out.

Reading the values alone would take 30 % for 0.3, and lose a formula without a stored result (ECMA-376, SpreadsheetML).
"""

from __future__ import annotations

import html
import re
import zipfile
from dataclasses import dataclass, field

Place = tuple[int, int]  # row and column, both from 1

_CELL = re.compile(rb"<(?:\w+:)?c\b([^>]*?)(?:/>|>(.*?)</(?:\w+:)?c>)", re.DOTALL)
_FORMULA = re.compile(rb"<(?:\w+:)?f\b[^>]*?(?:/>|>(.*?)</(?:\w+:)?f>)", re.DOTALL)
_VALUE = re.compile(rb"<(?:\w+:)?v\b[^>]*>([^<]+)</")
_REFERENCE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_PER_CENT = {b"9", b"10"}  # number formats that need not be declared: 0% and 0.00%


@dataclass
class Shown:
    """Of one sheet: cells whose text differs from their value, and the formulas that were worked out."""

    texts: dict[Place, str] = field(default_factory=dict)
    formulas: list[str] = field(default_factory=list)  # their references, like B2


def shown(packed: zipfile.ZipFile, formulas: bool) -> dict[str, Shown]:
    """By sheet; ``formulas``: whether there are any. What is not told as the standard has it is passed over: the values stand as they are."""
    per_cent = _per_cent_styles(packed)
    found: dict[str, Shown] = {}
    if not per_cent and not formulas:
        return found
    for name, member in _sheets(packed).items():
        content = packed.read(member)
        sheet = found[name] = Shown()
        for cell in _CELL.finditer(content):
            attributes, body = _attributes(cell[1]), cell[2] or b""
            reference = attributes.get("r", "")
            place = _REFERENCE.fullmatch(reference)
            if not place:
                continue
            formula, value = _FORMULA.search(body), _VALUE.search(body)
            text = ""
            if (
                formula and not value and attributes.get("t") != "str"
            ):  # the result of such may be an empty text
                text = "=" + html.unescape((formula[1] or b"").decode("utf-8", "replace"))
            elif value and attributes.get("s", "0").encode() in per_cent and attributes.get("t", "n") == "n":
                text = f"{100 * float(value[1]):.12g}%"
            if text:
                sheet.texts[int(place[2]), _number(place[1])] = text
            if formula and not text.startswith("="):
                sheet.formulas.append(reference)
    return found


def _sheets(packed: zipfile.ZipFile) -> dict[str, str]:
    """The member that holds each sheet."""
    members = set(packed.namelist())
    targets = {
        one.get("Id"): one.get("Target", "").removeprefix("/xl/")
        for one in _elements(packed, "xl/_rels/workbook.xml.rels", rb"Relationship")
    }
    sheets = {
        one.get("name", ""): f"xl/{targets.get(one.get('r:id'), '')}"
        for one in _elements(packed, "xl/workbook.xml", rb"sheet")
    }
    return {name: member for name, member in sheets.items() if member in members}


def _per_cent_styles(packed: zipfile.ZipFile) -> set[bytes]:
    """The numbers of the cell styles that show a value as per cent."""
    if "xl/styles.xml" not in packed.namelist():
        return set()
    styles = packed.read("xl/styles.xml")
    formats = set(_PER_CENT)
    for one in _elements(packed, "xl/styles.xml", rb"numFmt"):
        if "%" in re.sub(r'"[^"]*"|\\.', "", one.get("formatCode", "")):
            formats.add(one.get("numFmtId", "").encode())
    inside = re.search(rb"<(?:\w+:)?cellXfs\b.*?</(?:\w+:)?cellXfs>", styles, re.DOTALL)
    cells = re.findall(rb"<(?:\w+:)?xf\b([^>]*)", inside[0]) if inside else []
    return {
        str(number).encode()
        for number, attributes in enumerate(cells)
        if _attributes(attributes).get("numFmtId", "").encode() in formats
    }


def _elements(packed: zipfile.ZipFile, member: str, tag: bytes) -> list[dict[str, str]]:
    if member not in packed.namelist():
        return []
    return [
        _attributes(found) for found in re.findall(rb"<(?:\w+:)?" + tag + rb"\b([^>]*)>", packed.read(member))
    ]


def _attributes(written: bytes) -> dict[str, str]:
    return {
        name.decode(): html.unescape(value.decode("utf-8", "replace"))
        for name, value in re.findall(rb"([\w:]+)\s*=\s*[\"']([^\"']*)[\"']", written)
    }


def _number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number
