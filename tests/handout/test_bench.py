"""The empty sheet for one site and day: what is filled in, and that it comes back as it was filled."""

from __future__ import annotations

import zipfile
from datetime import date

import pandas as pd
import pytest

from dashboard import cli
from dashboard.handout import ripening
from dashboard.handout.bench import workbook
from dashboard.handout.bench.day import SPARE, day, expected
from dashboard.handout.bench.page import known
from dashboard.records.declaration import Declaration
from dashboard.records.importing.bench import HEAD, HEADINGS, READINGS
from dashboard.records.workbooks import read_grids
from tests.records.importing.test_ours import silently
from tests.records.small import tables, write_folder, write_workbook

DAY = date(2025, 7, 7)


WORDS = ["suture_in", "cross_in", "firmness_1_lbf", "firmness_2_lbf", "ssc_brix"]


def test_what_may_be_ripe_stands_in_it_by_walking_order(demo, tmp_path):
    workbook.write_workbook(day(demo, Declaration(), "Maravel", DAY), tmp_path / "a.xlsx")
    grids, problems, _ = read_grids(tmp_path / "a.xlsx")
    assert not problems
    top, rows = grids["bench"][: HEAD + 1], grids["bench"][HEAD + 1 :]
    assert [row[:2] for row in top[:2]] == [["site", "maravel"], ["date", "2025-07-07"]]
    assert tuple(top[HEAD]) == HEADINGS
    expected = ripening.walk(demo, "maravel", DAY, by_row=True)[0]
    filled = [dict(zip(HEADINGS, row, strict=True)) for row in rows[:: len(READINGS)]]
    named = [row for row in filled if row["cultivar"]]
    assert [row["cultivar"] for row in named] == expected["cultivar"].tolist()
    assert len(filled) == len(named) + SPARE
    assert [row[HEADINGS.index("reading")] for row in rows] == WORDS * len(filled)
    picked = dict(zip(expected["cultivar"], expected["picked_since"], strict=True))
    assert all((row["pick"] == "1") == (picked[row["cultivar"]] == "") for row in named)
    standing = demo.records_tables["trees"]
    here = standing.loc[standing["site"].astype(str) == "maravel", "cultivar"].astype(str)
    names = [row[0] for row in grids["names"][1:]]
    assert set(names) <= set(here)
    assert len(names) == len(set(names)) > len(named)
    with zipfile.ZipFile(tmp_path / "a.xlsx") as parts:
        sheet = parts.read("xl/worksheets/sheet1.xml").decode()
    assert f"<formula1>names!$A$2:$A${len(names) + 1}</formula1>" in sheet  # the same list in every row
    assert "<f>" not in sheet


def test_of_a_cultivar_never_picked_no_days_are_told():
    row = {"expected_first": "–", "expected_last": "–", "remark": ripening.FIRST_SEASON}
    assert expected(row) == "never picked before: look every week"
    assert expected(row | {"expected_first": "Jul 1", "expected_last": "Jul 9"}) == "Jul 1 – Jul 9"


def test_a_day_that_was_not_meant_says_so_and_what_to_give(demo):
    """The trial's last pick at the site is offered: a day it has fruit of."""
    last = demo.summaries.loc[demo.summaries["site"].astype(str) == "maravel", "date"].max()
    assert day(demo, Declaration(seasons=(2016, 2025)), "maravel", DAY).why == ""
    winter, after = day(demo, Declaration(), "maravel", date(2025, 12, 20)), Declaration(seasons=(2016, 2025))
    assert winter.rows.empty
    assert winter.why == f"Nothing may be ripe at maravel in the week from Dec 20, 2025; for another week give its day, as --date {last:%Y-%m-%d}."  # fmt: skip
    assert "The trial ends with 2025, so import refuses this day" in day(demo, after, "maravel", date(2026, 7, 7)).why  # fmt: skip
    told = known(winter)
    assert told["why"] == winter.why


def test_where_nothing_can_be_foretold_its_places_are_free_and_what_is_filled_in_comes_back(tmp_path, capsys):
    trial = write_folder(tmp_path / "trial", tables())
    asked = ["template", str(tmp_path / "day.xlsx"), "--trial", str(trial), "--site", "Low field", "--date", "2024-07-03", "--units", "si"]  # fmt: skip
    assert cli.main(asked) == 0
    said = capsys.readouterr().out
    assert "0 cultivars that may be ripe at low" in said
    assert "two at least" in said
    assert f"orchard-slate import {tmp_path / 'day.xlsx'} --into {trial}" in said
    grids = read_grids(tmp_path / "day.xlsx")[0]
    first = grids["bench"][HEAD + 1]
    assert [row[HEADINGS.index("reading")] for row in grids["bench"][HEAD + 1 : HEAD + 6]] == [*READINGS]
    first[0] = "Alvane"
    first[6:9] = ["61", "62", "63"]
    about = {row[0]: row[1] for row in grids.pop("about")[1:]}
    outcome = silently([write_workbook(tmp_path / "filled.xlsx", grids, about)], trial)
    assert outcome.code == 0, outcome.text
    fruit = pd.read_csv(trial / "fruit.csv").iloc[12:]
    assert fruit["suture_mm"].tolist() == [61, 62, 63]
    assert fruit["sample"].unique().tolist() == ["low 2024-07-03 Alvane"]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["--site", "low"], "needs a trial and a site"),
        (["--trial", "TRIAL", "--site", "nowhere"], "There is no site 'nowhere'; there are low, high."),
        (["--trial", "TRIAL", "--site", "low", "--date", "July 3"], "'July 3' is not a date"),
        (["--trial", "TRIAL/none", "--site", "low"], "there is no such folder or file"),
    ],
)
def test_what_cannot_be_told_is_said_in_a_sentence(tmp_path, capsys, asked, said):
    trial = write_folder(tmp_path / "trial", tables())
    options = [one.replace("TRIAL", str(trial)) for one in asked]
    assert cli.main(["template", str(tmp_path / "day.xlsx"), *options]) == 1
    assert said in capsys.readouterr().err
    assert not (tmp_path / "day.xlsx").exists()
