"""The handout as a workbook, read back: the answer's own numbers, units in the headings, text that stays text."""

from __future__ import annotations

import io
import zipfile

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.question import Question
from dashboard.handout import tables, workbook
from dashboard.ripening import day_label
from dashboard.terms.glossary import TERMS
from dashboard.terms.traits import TRAITS
from dashboard.wording.cautions import CAUTIONS
from tests.handout.conftest import NAMES
from tests.handout.test_hostile import HOSTILE

SHEETS = ["summary", "ranking", "traits", "season", "selling days", "meanings"]


def read(made: bytes, sheet: str, **options) -> pd.DataFrame:
    return pd.read_excel(
        io.BytesIO(made),
        sheet_name=sheet,
        engine="calamine",
        keep_default_na=False,
        na_values=[""],
        **options,
    )


@pytest.fixture(scope="module")
def made(asked) -> bytes:
    return workbook.xlsx(asked)


def test_it_has_its_six_sheets(made):
    assert list(pd.read_excel(io.BytesIO(made), sheet_name=None, engine="calamine")) == SHEETS


def test_the_ranking_is_the_page_s_file_in_order(made, asked):
    back = read(made, "ranking")
    page = tables.table(asked, "shortlist").set_index("Cultivar")
    assert back["Cultivar"].tolist() == asked.shortlisted.sort_values("rank").index.tolist()
    assert back["Place"].tolist() == [1, 2, 3, 4]
    assert list(back.columns) == ["Cultivar", "Place", *page.columns]
    for column in page.columns:
        wanted = page[column].loc[back["Cultivar"]]
        if pd.api.types.is_numeric_dtype(wanted):
            np.testing.assert_allclose(
                back[column].astype(float), wanted.astype(float).to_numpy(), rtol=1e-12
            )
        else:
            assert back[column].fillna("").tolist() == wanted.tolist()
    assert f"Size ({'in' if asked.units == 'us' else 'mm'})" in back.columns


def test_every_trait_of_every_cultivar_has_its_row(made, asked):
    back = read(made, "traits")
    assert len(back) == len(NAMES) * len(TRAITS)
    by = back.set_index(["Cultivar", "Trait"])
    for key, trait in TRAITS.items():
        unit, half = trait.unit(asked.units), 0.501 * 10.0 ** -(trait.decimals(asked.units) + 1)
        for name in NAMES:
            row, own = by.loc[(name, trait.label)], asked.values[key].loc[name]
            for label, column in (("Estimate", "estimate"), ("Low", "low"), ("High", "high")):
                assert row[label] == pytest.approx(unit.from_si(own[column]), abs=half)
            assert row["Reliability"] == pytest.approx(own["reliability"], abs=0.0051)
            assert (row["Samples"], row["Sites"], row["Seasons"]) == (own["samples"], own["sites"], own["seasons"])  # fmt: skip
            assert row["Fruit"] == own["fruit"] if trait.on_fruit else np.isnan(row["Fruit"])
            assert row["Method"] == own["method"]
            assert (row["Unit"] if isinstance(row["Unit"], str) else "") == unit.symbol


def test_the_season_is_in_dates(made, asked):
    back = read(made, "season")
    assert len(back) == len(NAMES) * 3
    for kind in ("early", "ordinary", "late"):
        windows = asked.catalogue.ripening.windows(asked.site, kind)
        rows = back[back["Season"] == kind].set_index("Cultivar")
        for name in NAMES:
            assert rows.loc[name, "First pick"] == day_label(windows.loc[name, "first"])
            assert rows.loc[name, "Last pick, high"] == day_label(windows.loc[name, "last_high"])


def test_it_says_what_was_asked_and_what_it_rests_on(made, asked):
    summary = read(made, "summary", header=None).fillna("").to_string()
    meanings = read(made, "meanings", header=None)
    for words in (
        "Invented example",
        asked.catalogue.version,
        "355 sampled cultivars pass the filters",
        *CAUTIONS,
    ):
        assert words in summary
    if asked.profile:
        assert asked.profile.name in summary
    told = dict(zip(meanings[0], meanings[1], strict=True))
    for word, meaning in tables.meanings(asked):
        assert word == "Caution" or told[word] == meaning or word.casefold() in {t.name for t in TERMS}
    for term in TERMS:
        assert any(meaning.startswith(term.meaning) for meaning in meanings[1])


def test_text_that_looks_like_a_formula_stays_text(hostile):
    made = workbook.xlsx(Question(hostile, market="packer"))
    names = set(read(made, "ranking")["Cultivar"])
    assert {HOSTILE["Harrowmead"], HOSTILE["Dunmarrow"]} <= names
    with zipfile.ZipFile(io.BytesIO(made)) as book:
        sheets = [book.read(name).decode() for name in book.namelist() if name.startswith("xl/worksheets/")]
    assert len(sheets) == 5
    assert not any(mark in sheet for sheet in sheets for mark in ("<f>", "<f ", "<hyperlink"))


def test_without_a_shortlist_it_is_the_first_of_the_ranking(catalogue):
    back = read(workbook.xlsx(Question(catalogue, market="packer")), "ranking")
    assert back["Cultivar"].tolist() == Question(catalogue, market="packer").ranking.index.tolist()


def test_where_nothing_passes_there_are_empty_sheets(catalogue):
    made = workbook.xlsx(Question(catalogue, flesh_colour=("red",), fruit_type=("nectarine",)))
    assert len(read(made, "ranking")) == len(read(made, "traits")) == len(read(made, "season")) == 0


def test_what_is_not_known_is_an_empty_cell(catalogue):
    made = workbook.xlsx(Question(catalogue, shortlist=("T 15-118", "Unpicked")))
    rows = read(made, "traits").set_index(["Cultivar", "Trait"])
    assert rows.loc[("T 15-118", "Sugar"), ["Estimate", "Low", "High"]].isna().all()
    season = read(made, "season")
    assert season.loc[season["Cultivar"] == "Unpicked", "First pick"].isna().all()
