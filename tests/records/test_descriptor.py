"""The data package follows the open standard, and says what the schema says.

The rules held here are those of Data Package, Data Resource and Table Schema as published at
specs.frictionlessdata.io and datapackage.org (names, types, constraints and keys, written down from memory).
"""

from __future__ import annotations

import csv
import json
import re

import pytest

from dashboard.records import read
from dashboard.records.declaration import Declaration, Scale
from dashboard.records.descriptor import descriptor
from dashboard.records.schema import RATINGS, TABLES
from dashboard.records.writing import write
from tests.records.small import tables, write_folder

# Table Schema: the types, and the constraints each may have.
TYPES = {
    "string": {"required", "unique", "enum", "pattern", "minLength", "maxLength"},
    "number": {"required", "unique", "enum", "pattern", "minimum", "maximum"},
    "integer": {"required", "unique", "enum", "pattern", "minimum", "maximum"},
    "year": {"required", "unique", "enum", "pattern", "minimum", "maximum"},
    "date": {"required", "unique", "enum", "pattern", "minimum", "maximum"},
    "boolean": {"required", "enum"},
}


def held_to_the_standard(package: dict) -> None:
    """Fails where a package breaks a rule of the standard."""
    assert package["profile"] == "tabular-data-package"
    assert re.fullmatch(r"[a-z0-9._/-]+", package["name"])
    names = [resource["name"] for resource in package["resources"]]
    assert len(names) == len(set(names)) > 0
    for resource in package["resources"]:
        assert re.fullmatch(r"[a-z0-9._/-]+", resource["name"])
        assert resource["profile"] == "tabular-data-resource"
        assert not resource["path"].startswith(("/", "."))
        schema = resource["schema"]
        fields = [field["name"] for field in schema["fields"]]
        assert len(fields) == len(set(fields)) > 0
        for field in schema["fields"]:
            assert set(field.get("constraints", {})) <= TYPES[field["type"]]
        assert set(schema["primaryKey"]) <= set(fields)
        for key in schema.get("foreignKeys", []):
            assert key["fields"] in fields
            other = package["resources"][names.index(key["reference"]["resource"])]
            assert key["reference"]["fields"] in [field["name"] for field in other["schema"]["fields"]]


def test_the_whole_schema_makes_a_package_of_the_standard():
    package = descriptor(TABLES, Declaration(title="My trials, 2024"))
    held_to_the_standard(package)
    assert package["name"] == "my-trials-2024"
    assert [resource["name"] for resource in package["resources"]] == list(TABLES)
    json.dumps(package, allow_nan=False)


@pytest.mark.parametrize("name", TABLES)
def test_every_column_is_described_with_its_meaning_and_limits(name):
    package = descriptor()
    (resource,) = [resource for resource in package["resources"] if resource["name"] == name]
    assert resource["schema"]["primaryKey"] == list(TABLES[name].key)
    for field, column in zip(resource["schema"]["fields"], TABLES[name].columns, strict=True):
        constraints = field.get("constraints", {})
        assert field["name"] == column.name
        assert field["description"].rstrip(".").lower() == column.meaning.lower()
        assert constraints.get("enum", []) == list(column.words)
        assert constraints.get("required", False) == column.needed
        if column.refuse:
            assert (constraints["minimum"], constraints["maximum"]) == column.refuse


def test_a_file_in_other_units_is_described_as_it_is():
    package = descriptor(headings={"fruit": ["sample", "fruit", "suture_in"], "samples": ["sample"]})
    held_to_the_standard(package)
    fruit = next(resource for resource in package["resources"] if resource["name"] == "fruit")
    field = fruit["schema"]["fields"][2]
    assert (field["name"], field["unit"]) == ("suture_in", "in")
    assert field["constraints"]["minimum"] == pytest.approx(15 / 25.4, abs=2e-6)
    assert field["constraints"]["minimum"] <= 15 / 25.4 < 150 / 25.4 <= field["constraints"]["maximum"]


def test_the_declaration_stands_under_its_own_key_and_limits_the_ratings():
    scales = {name: Scale() for name in RATINGS} | {"fuzz": Scale(1, 5, 1)}
    package = descriptor(TABLES, Declaration(title="T", ratings=scales, seasons=(2018, 2025)))
    assert package["orchard_slate"]["ratings"]["fuzz"] == {"low": 1, "high": 5, "best": 1}
    assert package["orchard_slate"]["seasons"] == [2018, 2025]
    samples = next(resource for resource in package["resources"] if resource["name"] == "samples")
    fuzz = next(field for field in samples["schema"]["fields"] if field["name"] == "fuzz")
    assert fuzz["constraints"] == {"minimum": 1, "maximum": 5}


def test_written_files_have_the_fields_their_package_names(tmp_path):
    records = read(write_folder(tmp_path / "in", tables()))
    write(records.tables, records.declaration, tmp_path / "out")
    package = json.loads((tmp_path / "out" / "datapackage.json").read_text(encoding="utf-8"))
    held_to_the_standard(package)
    for resource in package["resources"]:
        with (tmp_path / "out" / resource["path"]).open(encoding="utf-8", newline="") as file:
            assert next(csv.reader(file)) == [field["name"] for field in resource["schema"]["fields"]]
