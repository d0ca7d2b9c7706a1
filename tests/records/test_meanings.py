"""The documentation says what the schema says."""

from __future__ import annotations

import tomllib
from pathlib import Path

from dashboard.market import read_market
from dashboard.records.meanings import ABOUT_ITEMS, columns_markdown
from dashboard.records.schema import TABLES

DOCUMENT = Path(__file__).resolve().parents[2] / "docs" / "bring_your_own_data.md"


def test_the_document_holds_the_columns_as_they_are_now():
    assert columns_markdown() in DOCUMENT.read_text(encoding="utf-8")


def test_the_document_names_every_item_of_the_declaration():
    text = DOCUMENT.read_text(encoding="utf-8")
    assert all(f"| `{item}` | {value} | {meaning} |" in text for item, value, meaning in ABOUT_ITEMS)


def test_every_accepted_heading_is_listed():
    text = columns_markdown()
    for table in TABLES.values():
        for column in table.columns:
            assert all(f"`{spelling}`" in text for spelling in column.spellings)


def test_every_line_of_a_table_has_four_cells():
    lines = [line for line in columns_markdown().splitlines() if line.startswith("|")]
    assert lines
    assert {line.replace("\\|", "").count("|") for line in lines} == {5}


def test_the_market_in_the_document_can_be_read(tmp_path):
    text = DOCUMENT.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    path = tmp_path / "saturday.toml"
    path.write_text(text, encoding="utf-8")
    assert read_market(path).name == tomllib.loads(text)["name"]
