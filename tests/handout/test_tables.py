"""What leaves the building: headings with units, text that stays text, and the answer's own numbers read back."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.handout import tables
from dashboard.ripening import day_label
from dashboard.terms.traits import CLASSES, TRAITS
from tests.conftest import market_set

HOSTILE = {
    "Aldermere": "=HYPERLINK(\"http://x\",\"y\")",
    "Briskwell": "+1+1",
    "Candover": "-2+3",
    "Dunmarrow": "@SUM(A1)",
    "Elmsworth": "\tTab",
    "Farrowby": "plain, with \"quotes\" and\nline",
    "Glenhollow": "桃 🍑 “a”",
    "Harrowmead": "\u202eright to left",
}  # fmt: skip
STARTS = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")
FORMULAS = [name for name in HOSTILE.values() if name.startswith(STARTS)]


@pytest.fixture(scope="module")
def hostile(catalogue, summaries, fruit):
    """The coined cultivars under names that a spreadsheet might take for formulas."""
    cultivars = catalogue.cultivars.drop(index="Unpicked").reset_index()
    renamed = [
        frame.assign(cultivar=frame["cultivar"].astype(str).replace(HOSTILE))
        for frame in (cultivars, summaries, fruit)
    ]
    return catalogues.catalogue(
        renamed[0], renamed[1], renamed[2], sites=catalogue.sites, markets=market_set(), version="hostile"
    )  # fmt: skip


def read_csv(made: bytes) -> pd.DataFrame:
    return pd.read_csv(io.BytesIO(made), encoding="utf-8-sig", keep_default_na=False, na_values=[""])


def read_xlsx(made: bytes, sheet: str) -> pd.DataFrame:
    return pd.read_excel(
        io.BytesIO(made), sheet_name=sheet, engine="calamine", keep_default_na=False, na_values=[""]
    )


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("market", ["", "packer"])
@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_the_file_read_back_is_the_answer(catalogue, form, market, units):
    asked = Question(catalogue, market=market, units=units)
    back = (
        read_csv(tables.csv(asked, "ranking"))
        if form == "csv"
        else read_xlsx(tables.xlsx(asked, "ranking"), "ranking")
    )
    answer = asked.ranking
    assert back["Cultivar"].tolist() == answer.index.tolist()
    for field, (label, _) in CLASSES.items():
        assert back[label].tolist() == answer[field].tolist()
    for key, trait in TRAITS.items():
        heading, unit = trait.heading(units), trait.unit(units)
        half = 0.5 * 10.0 ** -(trait.decimals(units) + 1)
        for column, name in (
            (key, heading),
            (f"{key}_low", f"{heading}, low"),
            (f"{key}_high", f"{heading}, high"),
        ):
            expected = unit.from_si(answer[column].to_numpy(dtype=float))
            np.testing.assert_allclose(back[name].to_numpy(dtype=float), expected, atol=half * 1.001, rtol=0)
    for column, name in (
        ("seasons", "Seasons"),
        ("sites", "Sites"),
        ("samples", "Samples"),
        ("fruit", "Fruit"),
    ):
        assert back[name].tolist() == answer[column].tolist()
    for column, name in (("first", "First pick, usual"), ("last", "Last pick, usual")):
        assert back[name].fillna("").tolist() == ["" if d != d else day_label(d) for d in answer[column]]
    if market:
        assert back["For this market"].tolist() == answer["verdict"].astype(str).tolist()
        assert back["Why"].tolist() == [asked.reason(name) for name in answer.index]
        np.testing.assert_allclose(back["Score (0 to 100)"], 100 * answer["score"], atol=0.051)
    else:
        assert not {"Clears its limits", "Why", "Market"} & set(back.columns)


@pytest.mark.parametrize(("units", "symbols"), [("us", ("in", "lb")), ("si", ("mm", "N"))])
def test_units_stand_in_the_headings(catalogue, units, symbols):
    columns = tables.table(Question(catalogue, units=units), "ranking").columns
    assert f"Size ({symbols[0]})" in columns
    assert f"Firmness ({symbols[1]}), low" in columns
    assert "Sugar (°Brix), high" in columns
    assert len(set(columns)) == len(columns)


def test_a_known_size_is_written_in_inches(catalogue):
    """By hand: 25.4 mm make an inch (exact by definition)."""
    asked = Question(catalogue)
    row = tables.table(asked, "ranking").set_index("Cultivar").loc["Aldermere"]
    assert row["Size (in)"] == pytest.approx(
        catalogue.values["size"].loc["Aldermere", "estimate"] / 25.4, abs=0.0006
    )


def test_the_shortlist_keeps_its_order_and_takes_no_filter(catalogue):
    names = ("T 14-203", "Aldermere", "Candover")
    asked = Question(catalogue, shortlist=names, flesh_colour=("white",))
    for back in (
        read_csv(tables.csv(asked, "shortlist")),
        read_xlsx(tables.xlsx(asked, "shortlist"), "shortlist"),
    ):
        assert tuple(back["Cultivar"]) == names


def test_text_that_looks_like_a_formula_stays_text_in_a_workbook(hostile):
    asked = Question(hostile, market="packer", seasons=1)
    made = tables.xlsx(asked, "ranking")
    assert read_xlsx(made, "ranking")["Cultivar"].tolist() == asked.ranking.index.tolist()
    assert set(FORMULAS) <= set(asked.ranking.index)
    for sheet in sheets_of(made):
        assert "<f>" not in sheet
        assert "<f " not in sheet
        assert "<hyperlink" not in sheet


def sheets_of(made: bytes) -> list[str]:
    import zipfile

    with zipfile.ZipFile(io.BytesIO(made)) as book:
        return [book.read(name).decode() for name in book.namelist() if name.startswith("xl/worksheets/")]


@pytest.mark.parametrize("start", STARTS)
def test_every_text_of_a_comma_file_is_marked_where_it_starts_like_a_formula(start):
    rows = pd.DataFrame({"row": [f"{start}1+1", "7"], "chance": [-1.5, 2.0]})
    assert tables.comma_separated(rows) == f"row,chance\n'{start}1+1,-1.5\n7,2.0\n"


def test_text_that_looks_like_a_formula_is_marked_as_text_in_comma_files(hostile):
    back = read_csv(tables.csv(Question(hostile), "ranking"))["Cultivar"]
    assert not back.str.startswith(STARTS).any()
    assert {"'" + name for name in FORMULAS} <= set(back)


def test_negative_numbers_stay_numbers_in_comma_files(catalogue):
    days = read_csv(tables.csv(Question(catalogue), "ranking"))["Days from the check cultivar"]
    assert days.dtype == float
    assert (days < 0).any()


def test_names_of_any_script_come_back(hostile):
    asked = Question(hostile)
    for back in (read_csv(tables.csv(asked, "ranking")), read_xlsx(tables.xlsx(asked, "ranking"), "ranking")):
        assert {"桃 🍑 “a”", "\u202eright to left", 'plain, with "quotes" and\nline'} <= set(back["Cultivar"])
    assert tables.csv(asked, "ranking").startswith(b"\xef\xbb\xbf")


@pytest.mark.parametrize("part", ["ranking", "shortlist"])
def test_an_empty_answer_is_a_table_of_headings(catalogue, part):
    asked = Question(catalogue, flesh_colour=("red",), fruit_type=("nectarine",))
    for back in (read_csv(tables.csv(asked, part)), read_xlsx(tables.xlsx(asked, part), part)):
        assert len(back) == 0
        assert "Size (in)" in back.columns


def test_what_is_not_known_is_an_empty_cell_and_never_a_word(catalogue):
    asked = Question(catalogue, shortlist=("T 15-118",), market="packer")
    for back in (
        read_csv(tables.csv(asked, "shortlist")),
        read_xlsx(tables.xlsx(asked, "shortlist"), "shortlist"),
    ):
        assert back[["Sugar (°Brix)", "Sugar (°Brix), low"]].isna().all(axis=None)
    assert b"nan" not in tables.csv(asked, "shortlist").lower()


def test_a_workbook_says_what_it_rests_on(catalogue):
    asked = Question(catalogue, market="packer", units="si")
    said = read_xlsx(tables.xlsx(asked, "ranking"), "meanings")
    text = said.to_string()
    for words in (
        "hand-made",
        "Packer",
        "invented",
        "90 %",
        "adjusted for site and year (mixed model)",
        "Size (mm)",
        "Firmness (N)",
    ):
        assert words in text, words
    for trait in TRAITS.values():
        assert trait.meaning in set(said.iloc[:, 1])


def test_no_cell_of_a_file_is_minus_nought(catalogue):
    same_day = replace(catalogue, windows=catalogue.windows.assign(from_check=-0.01))
    for part in ("ranking", "shortlist"):
        asked = Question(same_day, market="packer", shortlist=("Candover",))
        assert not re.search(r"(?m)(^|,)-0(\.0*)?(,|$)", tables.csv(asked, part).decode("utf-8-sig"))
