"""The command's table is the page's, to the last digit."""

from __future__ import annotations

import json

import pytest

from dashboard import places
from dashboard.answers.question import Question
from dashboard.handout import standings, tables
from dashboard.market import MarketError
from dashboard.page.parts.elements import RowTable
from dashboard.page.tabs.ranking import ranking
from dashboard.visit.state import State

PROFILES = sorted(places.MARKETS.glob("*.toml"))


@pytest.mark.alike(8)
@pytest.mark.parametrize("profile", PROFILES, ids=lambda path: path.stem)
@pytest.mark.parametrize(("site", "units"), [("", "us"), ("tessock", "si")])
def test_it_is_the_file_that_the_page_offers(demo, profile, site, units):
    asked = standings.ranked(demo, profile, site, units)
    page = Question(demo, market=profile.stem, site=site, units=units)
    assert standings.text(asked).encode("utf-8-sig") == tables.csv(page, "ranking")


def test_it_has_the_further_columns_that_were_asked_for(demo):
    usual, more = (
        tables.table(standings.ranked(demo, PROFILES[0], columns=asked), "ranking")
        for asked in ("", "nursery,winter chill")
    )
    assert list(more.columns) == [
        *usual.columns, "Nurseries", "Newest offers are for", "Winter chill (portions)", "Winter chill (hours)",
    ]  # fmt: skip
    assert (
        more["Winter chill (hours)"].dropna().tolist()
        == demo.cultivars.loc[more["Cultivar"], "chill_requirement_h"].dropna().tolist()
    )


def test_it_says_what_the_page_shows(demo):
    """The rows of the page's first page against those of the command, as a reader sees them."""
    asked = standings.ranked(demo, PROFILES[0])
    state = State(demo, f"?v=1&market={PROFILES[0].stem}")
    (table,) = ranking(state).select(RowTable)
    told = json.loads(table.told)
    keys = [column["key"] for column in told["columns"]]
    rows = tables.table(asked, "ranking")
    for shown, (_, row) in zip(told["rows"], rows.iterrows(), strict=False):
        cells = dict(zip(keys, shown["cells"], strict=True))
        assert cells["name"][0] == row["Cultivar"]
        score = float(cells["score"][0].split(" ")[0])
        assert score == pytest.approx(row["Score (0 to 100)"], abs=0.55)  # whole here, a tenth there
        assert row["Why"].endswith(
            cells["name"][4]
        )  # a reason only where it says something, the verdict beside it
        assert float(cells["size"][0].split(" ")[0]) == pytest.approx(
            row["Size (in)"], abs=0.0051
        )  # a digit more in the file


def test_what_cannot_be_given_is_one_sentence(demo, tmp_path):
    with pytest.raises(ValueError, match="No reading at a site 'moon'"):
        standings.ranked(demo, PROFILES[0], "moon")
    with pytest.raises(ValueError, match="no column 'colour' to choose"):
        standings.ranked(demo, PROFILES[0], columns="colour")
    bad = tmp_path / "bad.toml"
    bad.write_text(
        'name = "Bad"\n[[wish]]\ntrait = "sugar"\nshape = "larger"\nfrom = 8\nto = 14\nweight = -1\n'
    )
    with pytest.raises(MarketError, match=r"weight = -1\.0: must be above 0"):
        standings.ranked(demo, bad)


def test_remarks_say_what_the_figures_stand_for(demo):
    said = standings.remarks(standings.ranked(demo, PROFILES[0]))
    assert any(line.startswith("Caution") for line in said)
    assert any("Larrow Valley" in line for line in said)
