"""An answer leaves for other programs with its units, and comes back the same.

Held against the reference program of the Data Package standard (frictionless, https://framework.frictionlessdata.io) and Apache Arrow's.
"""

from __future__ import annotations

import json
import sys

import frictionless
import holoviews as hv
import numpy as np
import pandas as pd
import pyarrow.parquet
import pytest

from dashboard import Asked, AskError, Records
from dashboard.calls.leaving import unit_of
from dashboard.calls.table import answered
from tests.calls.told import fault_of


@pytest.fixture(scope="module")
def ranking(few: Records):
    return few.ask("Packer").ranking("all")


def test_it_is_plain_pandas_too(ranking):
    plain = pd.DataFrame(ranking)
    assert type(plain) is pd.DataFrame
    assert plain.index.name == "cultivar"


def test_a_package_is_one_by_the_standard_and_reads_back_the_same(ranking, tmp_path):
    ranking.package(tmp_path / "made here")
    report = frictionless.validate(str(tmp_path / "made here" / "datapackage.json"))
    assert report.valid, report.flatten(["rowNumber", "fieldName", "message"])
    (read,) = frictionless.Package(str(tmp_path / "made here" / "datapackage.json")).resources
    rows = {row["cultivar"]: row for row in read.read_rows()}
    assert list(rows) == list(ranking.index)
    for name in ("size_in", "size_in_low", "score", "firmness_lbf_high"):
        back = [float(rows[one][name]) if rows[one][name] is not None else np.nan for one in ranking.index]
        np.testing.assert_array_equal(back, ranking[name])  # to the last digit
    assert [rows[one]["first_pick"] for one in ranking.index if rows[one]["first_pick"]] == [
        day.date() for day in ranking["first_pick"].dropna()
    ]
    said = json.loads((tmp_path / "made here" / "datapackage.json").read_text("utf-8"))
    units = {field["name"]: field.get("unit") for field in said["resources"][0]["schema"]["fields"]}
    assert (units["size_in_low"], units["firmness_lbf"], units["chance_pct"], units["verdict"]) == (
        "in",
        "lbf",
        "%",
        None,
    )
    assert ranking.said[0] in said["description"]
    assert ranking.cautions[-1] in said["description"]


def test_arrow_and_parquet_carry_headings_units_and_what_is_said(ranking, tmp_path):
    ranking.parquet(tmp_path / "answer.parquet")
    back = pyarrow.parquet.read_table(tmp_path / "answer.parquet")
    assert back.schema.equals(ranking.arrow().schema)
    field = back.schema.field("sugar_brix")
    assert field.metadata[b"unit"].decode() == "°Brix"
    assert field.metadata[b"title"].decode() == "Sugar (°Brix)"
    assert json.loads(back.schema.metadata[b"said"]) == list(ranking.said)
    np.testing.assert_array_equal(back.column("size_in").to_numpy(), ranking["size_in"])
    assert back.column("cultivar").to_pylist() == list(ranking.index)


def test_every_kind_of_answer_leaves(few: Records, ranking, tmp_path):
    ask, names = few.ask("Packer"), list(ranking.index[:3])
    every = {
        "season": ask.season(), "why": ask.why(names[0]), "compare": ask.compare(*names), "stand_ins": ask.stand_ins(names[0]), "gaps": ask.gaps(),
        "estimates": few.estimates("sugar", units="si"), "fruit": few.fruit(names[0]), "markets": few.markets, "cultivars": few.cultivars,
        "none": ask.season().iloc[:0],
    }  # fmt: skip
    for name, answer in every.items():
        answer.package(tmp_path / name)
        assert frictionless.validate(str(tmp_path / name / "datapackage.json")).valid, name
        assert answer.arrow().num_rows == len(answer)


def test_what_a_spreadsheet_would_work_out_stays_text(tmp_path):
    answered(pd.DataFrame({"note": ["=1+1", "plain", None]})).package(tmp_path)
    assert (tmp_path / "answer.csv").read_text("utf-8") == 'note\n\'=1+1\nplain\n""\n'


@pytest.mark.parametrize(
    ("column", "unit"),
    [("size_mm", "mm"), ("size_in_high", "in"), ("firmness_n", "N"), ("firmness_lbf_se", "lbf"), ("split_pit_pct", "%"), ("red", "of 10"), ("first_5_pct", "%"),
     ("price_usd_lowest", "USD"), ("chill_hours", "h"), ("yield_lb_per_tree_least", "lb"), ("sugar_in", ""), ("verdict", ""), ("roundness", "")],
)  # fmt: skip
def test_the_unit_of_a_column_is_told_by_its_name(column, unit):
    assert unit_of(column) == unit


def test_without_pyarrow_one_sentence_says_what_to_install(ranking, monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    for call in (ranking.arrow, lambda: ranking.parquet(tmp_path / "x")):
        with pytest.raises(AskError, match=r"orchard-slate\[arrow\]"):
            call()


def test_a_place_that_cannot_be_written_is_told(ranking, tmp_path):
    (tmp_path / "file").write_text("")
    assert "cannot be made" in fault_of(lambda: ranking.package(tmp_path / "file" / "in"))
    assert "cannot be written" in fault_of(lambda: ranking.parquet(tmp_path / "none" / "x.parquet"))
    assert "not 3" in fault_of(lambda: ranking.package(3))
    twice = pd.concat([ranking[["size_in"]], ranking[["size_in"]]], axis=1)
    assert "Two columns are called 'size_in'" in fault_of(
        lambda: type(ranking)(twice).package(tmp_path / "x")
    )


def test_other_tools_open_a_ranking(ask: Asked):
    ranking = ask.ranking()
    known = hv.Dataset(ranking.reset_index(), "cultivar", ["size_in", "sugar_brix"])
    assert list(known.dimension_values("cultivar")) == list(ranking.index)
    np.testing.assert_array_equal(known.dimension_values("size_in"), ranking["size_in"])
    assert len(known.to(hv.Scatter, "size_in", "sugar_brix", groupby=[])) == len(ranking)
    assert len(hv.Dataset(ranking)) == len(ranking)  # without the names of its rows
