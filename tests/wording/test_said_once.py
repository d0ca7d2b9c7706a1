"""A sentence of this room is written nowhere below it: page, paper and slate take it from here."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import dashboard

PACKAGE = Path(dashboard.__file__).parent
BELOW = ("page", "handout", "slate", "charts", "visit")
WORDS = 8  # in a row: fewer are a turn of speech


def texts(path: Path) -> list[str]:
    """What a file writes for a reader; in Python every text but those that explain the code, elsewhere every line."""
    source = path.read_text(encoding="utf-8")
    if path.suffix != ".py":
        return source.splitlines()
    tree = ast.parse(source)
    explained = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    return [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in explained
    ]


def turns(path: Path) -> set[str]:
    found = set()
    for text in texts(path):
        words = re.findall(r"[a-z’']+", text.lower())
        found |= {" ".join(words[at : at + WORDS]) for at in range(len(words) - WORDS + 1)}
    return found


SAID = {turn for path in (PACKAGE / "wording").glob("*.py") for turn in turns(path)}
FILES = [
    path for room in BELOW for kind in ("py", "js", "html") for path in (PACKAGE / room).rglob(f"*.{kind}")
]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_file_below_says_it_again(path):
    assert turns(path) & SAID == set()


def test_what_is_said_again_is_found(tmp_path):
    page = tmp_path / "page.html"
    page.write_text("<p>Trial results hold for the sites and seasons they come from.</p>", encoding="utf-8")
    assert turns(page) & SAID
    code = tmp_path / "page.py"
    code.write_text(
        '"""Trial results hold for the sites and seasons they come from."""\nWORDS = "of its own"\n',
        encoding="utf-8",
    )
    assert not turns(code) & SAID
