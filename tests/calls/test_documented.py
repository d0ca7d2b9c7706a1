"""docs/python.md is what the docstrings say, names every call, and its lines run."""

from __future__ import annotations

import re
from pathlib import Path

from dashboard import Asked, Records, Table
from dashboard.answers.catalogue import Catalogue
from dashboard.calls.at_site import AtSite
from dashboard.calls.brought import Bringing
from dashboard.calls.ordered import Orders
from dashboard.page import documented

DOCUMENT = Path(__file__).resolve().parents[2] / "docs" / "python.md"


def public(kind: type, but: type = object) -> set[str]:
    return {name for name in vars(kind) if not name.startswith("_") and name not in vars(but)}


def test_the_document_is_made_from_the_calls(demo: Catalogue):
    assert DOCUMENT.read_text(encoding="utf-8") == documented.markdown(demo)


def test_every_call_is_in_it():
    told = set(re.findall(r"^### `(?:\w+\.)?(\w+)", DOCUMENT.read_text(encoding="utf-8"), re.MULTILINE))
    assert told == {"load", "show"} | (public(Records) | public(Bringing)) - {"catalogue"} | public(Asked) - {
        "question",
        "told",
    } | public(AtSite) | public(Orders) | public(Table)


def test_its_lines_run(demo: Catalogue):
    lines = "\n".join(
        re.findall(
            r"```python\n(from dashboard import load\n.*?|mine = .*?|from dashboard import load, show\n.*?)```",
            DOCUMENT.read_text(encoding="utf-8"),
            re.DOTALL,
        )
    )
    known: dict = {}
    exec(compile(lines.replace('"path/to/records"', ""), "docs/python.md", "exec"), known)
    assert known["records"].catalogue is demo
    assert 1 <= len(known["slate"]) <= 8
    assert known["richer"].catalogue.own_traits == ("sugar_to_firmness",)
