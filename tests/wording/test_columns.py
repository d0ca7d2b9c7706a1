"""A column is declared once: wherever it is shown it has the same heading and, of one cultivar, the same cell."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pandas as pd
import pytest

from dashboard.answers.question import Question
from dashboard.charts import listing
from dashboard.handout import summary_page, tables, workbook
from dashboard.page.tabs.side_by_side_table import table_view
from dashboard.slate import rows as slate
from dashboard.terms.traits import TRAITS, UNKNOWN
from dashboard.wording import columns
from dashboard.wording.column_kinds import words
from dashboard.wording.columns import COLUMNS, OFFERED, PLACES

COUNTS = ("seasons", "sites", "samples", "fruit")
NAMES = ("Candover", "Aldermere", "T 15-118", "Briskwell")
Table = Mapping[str, Mapping[str, Any]]  # by heading, the cell of each cultivar


@pytest.fixture(scope="module", params=["", "packer"])
def asked(request, catalogue) -> Question:
    return Question(
        catalogue, market=request.param, shortlist=NAMES, beside=NAMES, columns=OFFERED, seasons=0
    )


def listed(told: dict[str, list[dict]]) -> Table:
    """A table of cultivars as the page and the slate hold it; of a mark its words, of what is drawn its text."""
    return {
        head["label"]: {
            row["name"]: cell[1] if head["kind"] == "mark" else cell[0] if isinstance(cell, list) else cell
            for row in told["rows"]
            for cell in [row["cells"][at]]
        }
        for at, head in enumerate(told["columns"])
    }


def filed(text: str) -> Table:
    lines = list(csv.DictReader(io.StringIO(text)))
    return {head: {line["Cultivar"]: line[head] for line in lines} for head in lines[0]}


def beside(asked: Question) -> Table:
    told = table_view(asked)
    return {row["cells"][0]: dict(zip(asked.beside, row["cells"][1:], strict=True)) for row in told["rows"]}


def printed(asked: Question) -> Table:
    """The tables of the summary on paper, whose rows are in the order of the ranking."""
    keys = {str(name): str(name) for name in asked.shortlist}
    order = [row["name"] for row in summary_page.in_order(asked)]
    return {
        head.label: {name: row[at] for name, row in zip(order, made.rows, strict=True)}
        for made in (summary_page.standings(asked, keys), *summary_page.besides(asked, keys))
        for at, head in enumerate(made.columns)
    }


def shown(asked: Question, place: str, listed: bool) -> set[str]:
    return {column.key for column in columns.shown(asked, place, listed)}


@pytest.mark.alike(12)
@pytest.mark.parametrize("key", COLUMNS)
def test_every_place_tells_a_column_alike(asked, key):
    column = COLUMNS[key]
    ranking = asked.ranking.loc[list(NAMES)]
    for place, short, made in (
        ("list", False, listed(listing.table(asked, ranking))),
        ("list", True, listed(listing.table(asked, asked.shortlisted, listed=True))),
        ("paper", True, printed(asked)),
        ("beside", True, beside(asked)),
    ):
        if key not in shown(asked, place, short) and not (
            place == "paper" and column.offered and not column.passing
        ):
            continue
        rows = asked.shortlisted if short else ranking
        told = {str(row["name"]): column.told(asked, row) for row in listing.each(rows)}
        found = made[column.heading(asked, place)]
        if place == "beside" and key in TRAITS:  # there it is said in words what is not known
            found = {name: "–" if cell == UNKNOWN else cell for name, cell in found.items()}
        if place == "beside" and key in COUNTS:  # there they are counted in the trait with the most
            assert set(found) == set(told)
        else:
            assert found == told, place


@pytest.mark.parametrize("place", PLACES)
def test_a_place_has_the_columns_it_names_and_no_other(asked, place):
    """Those of a market only where there is one, and under headings that tell them apart."""
    found = columns.shown(asked, place)
    headings = [column.heading(asked, place) for column in found]
    if place != "file":  # whose headings are its own
        assert len(set(headings)) == len(headings)
    assert all(asked.profile or not column.ranked for column in found)
    wanted = (
        [one for one in columns.chosen(asked, passing=place == "list") if asked.profile or not one.ranked]
        if columns.CHOSEN in PLACES[place]
        else []
    )  # on paper in a table of their own
    named = [columns.COLUMNS[key] for key in PLACES[place] if key != columns.CHOSEN]
    assert [column for column in found if column.offered and column not in named] == wanted


@pytest.mark.alike(12)
@pytest.mark.parametrize("key", COLUMNS)
def test_the_files_hold_a_column_under_its_own_headings(asked, key):
    """Read back as text, from the .csv and from the sheet of the workbook."""
    for made in (
        filed(tables.csv(asked, "shortlist").decode("utf-8-sig")),
        filed(tables.comma_separated(workbook.ranking(asked))),
    ):
        for one in COLUMNS[key].filed:
            heading = words(one.heading, asked)
            if key not in shown(asked, "file", True):
                assert heading not in made
                continue
            rows = asked.rows_of(NAMES)
            wanted = pd.DataFrame({"Cultivar": list(rows.index), heading: one.cells(asked, rows)})
            assert made[heading] == filed(tables.comma_separated(wanted))[heading]


def test_the_slate_s_table_is_the_page_s(asked):
    assert listed(slate.table(asked)) == listed(listing.table(asked, asked.ranking))


def test_every_column_stands_somewhere_and_no_place_has_it_twice():
    for place, keys in (*PLACES.items(), *columns.BY_NAME.items()):
        assert len(set(keys)) == len(keys), place
    placed = {key for keys in PLACES.values() for key in keys} - {columns.CHOSEN}
    assert placed | set(OFFERED) == set(COLUMNS)


def test_a_column_s_figure_to_sort_by_is_one_of_the_ranking(asked):
    for column in COLUMNS.values():
        if column.by and not (column.ranked and not asked.profile):
            assert column.by == "name" or column.by in asked.ranking, column.key


def test_what_is_told_of_those_that_pass_is_not_told_of_a_shortlist(catalogue):
    asked = Question(catalogue, market="packer", shortlist=NAMES)
    asked = replace(asked, columns=("leads",))
    for place in ("list", "file"):
        whole, some = columns.shown(asked, place), columns.shown(asked, place, listed=True)
        assert [column for column in whole if not column.passing] == list(some)
        assert len(some) < len(whole)


NOTHING = {key: float("nan") for key in ("chill_cp", "chill_h")}


def test_winter_chill_is_told_as_it_was_recorded(catalogue):
    def told(**recorded: float) -> str:
        return COLUMNS["winter_chill"].told(Question(catalogue), NOTHING | recorded)

    assert told(chill_h=725.0) == "725 hours"
    assert told(chill_cp=50.5) == "50.5 portions"
    assert told(chill_cp=51.0, chill_h=725.0) == "51 portions, 725 hours"
    assert told() == "not recorded"


def test_bacterial_spot_is_told_on_its_scale(catalogue):
    asked, column = Question(catalogue), COLUMNS["bacterial_spot"]
    assert column.heading(asked) == "Bacterial spot (0 none to 5)"
    told = [column.told(asked, {"bacterial_spot": seen}) for seen in (0.0, 2.0, 2.5, float("nan"))]
    assert told == ["0", "2", "2.5", "not recorded"]


def test_the_yield_of_a_tree_is_told_with_its_crops(catalogue):
    """By hand: 0.45359237 kg make a pound (exact by definition), so 22.6796 kg are 50 lb."""
    column, us, si = COLUMNS["yield_per_tree"], Question(catalogue), Question(catalogue, units="si")
    row = {"yield_kg": 22.6796, "yield_low": 20.0, "yield_high": 25.4, "crops": 2.0}
    assert (column.heading(us), column.told(us, row)) == ("Yield per tree (lb)", "50, 44 to 56 in 2 crops")
    assert (column.heading(si), column.told(si, row)) == ("Yield per tree (kg)", "23, 20 to 25 in 2 crops")
    assert column.told(si, row | {"crops": 1.0}) == "23 in 1 crop"
    assert column.told(us, dict.fromkeys(row, float("nan"))) == "not recorded"


def offer(**other: Any) -> dict[str, Any]:
    return {
        "offers": "2026",
        "price_low": 8.65,
        "price_high": 11.35,
        "nurseries": "Upper Nursery, Lower Trees",
    } | other


def test_a_price_is_told_with_its_money_and_its_season(catalogue):
    column, asked = COLUMNS["price"], Question(replace(catalogue, currency="USD"))
    assert column.told(asked, offer()) == "USD 8.65 to 11.35 (2026)"
    assert column.told(asked, offer(price_high=8.65)) == "USD 8.65 (2026)"
    assert column.told(asked, offer(price_low=float("nan"))) == "not stated (2026)"
    assert column.told(asked, offer(nurseries="")) == "none left (2026)"
    assert column.told(asked, offer(nurseries="", offers="")) == "not recorded"
    bare = Question(replace(catalogue, currency=""))
    assert column.told(bare, offer()) == "8.65 to 11.35, currency not stated (2026)"


def test_every_nursery_that_still_has_trees_is_named(catalogue):
    column, asked = COLUMNS["nursery"], Question(catalogue)
    assert column.told(asked, offer()) == "Upper Nursery, Lower Trees (2026)"
    assert column.told(asked, offer(nurseries="")) == "none left (2026)"
    assert column.told(asked, offer(nurseries="", offers="")) == "not recorded"


def test_a_command_names_columns_by_key_or_label_or_is_told_which_there_are():
    assert columns.called("price, Winter chill,price,") == ("price", "winter_chill")
    assert columns.called("") == ()
    with pytest.raises(
        ValueError, match="no column 'size' to choose; there are winter_chill, winters, bacterial_spot"
    ):
        columns.called("size")
