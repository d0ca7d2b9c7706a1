"""What the weather of a place says: the answer first, its doubt and its cautions with it."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest

from dashboard.answers.my_site import Bloomed, MySite
from dashboard.answers.question import Question
from dashboard.site.needs import enough
from dashboard.site.station import station
from dashboard.site.steps import Jump, jump
from dashboard.terms.traits import UNKNOWN
from dashboard.wording import my_site as words
from dashboard.wording.columns import COLUMNS
from tests.site.places import place, weather


@pytest.fixture(scope="module")
def asked(well_recorded) -> Question:
    own = MySite(well_recorded, place(mean=20.0))
    return Question(well_recorded, weather=own, shortlist=("Aldermere", "Candover", "Farrowby", "Glenhollow"))


@pytest.mark.parametrize(("share", "told"), [(1, "10 in 10"), (0, "0 in 10"), (0.999, "9.9 in 10"), (0.001, "0.1 in 10"), (0.92, "9.2 in 10"), (np.nan, UNKNOWN)])  # fmt: skip
def test_only_always_and_never_are_told_as_such(share, told):
    assert words.in_ten(share) == told


def test_rounding_is_told_where_it_matters():
    row = {
        "enough": 0.9,
        "enough_low": 0.8,
        "enough_high": 1.0,
        "measure": "hours",
        "need": 650.0,
        "step": 50.0,
    }
    assert words.enough_told(row) == "9.0 in 10 (10 if it needs 625 hours, 8 if 675)"
    assert words.enough_told({**row, "enough_low": 0.9, "enough_high": 0.9}) == "9.0 in 10"
    assert words.enough_told({**row, "measure": ""}) == UNKNOWN
    assert words.need_told(row) == "650 hours"


def test_the_card_tells_each_unit_and_the_tab_what_a_need_leaves_open(asked):
    found = asked.my_site
    name = found.enough.index[(found.enough["measure"] != "").to_numpy()][0]
    told = words.chill_facts(asked, name)
    assert {label.rsplit(" ", 1)[1] for label, _ in told} == {
        unit for unit, one in found.by_unit.items() if one.loc[name, "need"] == one.loc[name, "need"]
    }
    assert told[0][1] == words.enough_told(found.enough.loc[name], " winters at Warm Flat")
    assert told[0][1].startswith(words.in_ten(found.enough.loc[name, "enough"]) + " winters at Warm Flat")
    more = asked.catalogue.cultivars[["chill_requirement_cp", "chill_requirement_h"]] * 1.1
    enough_then = enough(more, found.winters)["enough"] >= 0.9 - 1e-9
    less = int((found.enough["enough"] >= 0.9 - 1e-9).sum() - enough_then.sum())
    assert f"Were each a tenth higher, {less or 'no'} cultivar" in words.doubt_told(asked)[0]
    assert words.doubt_told(Question(asked.catalogue, weather=None, higher=60)) == []


def test_the_answer_comes_first_and_a_trend_is_no_forecast(asked):
    lines = words.supply_told(asked.my_site)
    least = asked.my_site.assured
    assert lines[0] == f"In 9 winters of 10, Warm Flat had at least {least['portions']:.0f} chill portions and {least['hours']:.0f} chill hours."  # fmt: skip
    assert "95 % between" in lines[3]
    assert lines[4] == "A trend tells what was, not what will be."


def test_the_slate_says_who_goes_short_together(asked):
    lines = words.slate_told(asked)
    together = asked.my_site.short_together(asked.shortlist)
    year, names = next(iter(together.items()))
    assert lines[0].startswith("Winter chill at Warm Flat: ")
    assert (
        lines[1]
        == f"In the winter of {year}, {len(names)} would have gone short together: {', '.join(names)}."
    )
    assert words.slate_told(Question(asked.catalogue)) == []


def test_the_column_tells_the_place_and_its_files_hold_figures(asked):
    column = COLUMNS["winters"]
    rows = asked.rows_of(asked.shortlist)
    assert column.heading(asked) == "Enough chill at Warm Flat"
    told = asked.my_site.enough
    for name, row in rows.iterrows():
        assert column.told(asked, {**row, "name": name}) == words.enough_told(told.loc[name])
    assert [len(filed.cells(asked, rows)) for filed in column.filed] == [4, 4, 4]
    assert column.filed[0].cells(asked, rows) == pytest.approx(
        (10 * told.loc[rows.index, "enough"]).round(2).tolist(), nan_ok=True
    )


def test_without_weather_the_column_knows_nothing(catalogue):
    bare = Question(catalogue)
    rows = bare.ranking
    assert COLUMNS["winters"].told(bare, {"name": rows.index[0]}) == UNKNOWN
    assert pd.isna(COLUMNS["winters"].filed[0].cells(bare, rows)).all()


def test_a_southern_bloom_is_told_by_the_calendar():
    """Day 250 of the year is 7 September (by hand: 243 days to the end of August), on either side of the equator."""
    day = np.array([[243.0], [250.0], [257.0]])
    bloomed = Bloomed([2018, 2019, 2020], day, day * 0, day * 0, np.zeros((7, 3, 1)))
    for south in (True, False):
        catalogue = SimpleNamespace(south=south, cultivars=pd.DataFrame(index=["Candover"]))
        asked = SimpleNamespace(my_site=SimpleNamespace(bloomed=bloomed), catalogue=catalogue)
        assert words.bloom_told(asked, "Candover") == "Sep 7, Aug 31 to Sep 14"


def test_a_station_that_was_moved_is_asked_about_in_a_sentence(well_recorded):
    days = weather(seed=1)
    later = (days["date"].dt.year >= 2013).to_numpy()
    wider = days.assign(tmax_c=days["tmax_c"] + later * 1.2, tmin_c=days["tmin_c"] - later * 1.2)
    found = MySite(well_recorded, station(wider, "Warm Flat", 33.0))
    found.jump = jump(found.station)  # beside no other
    (told,) = [line for line in words.records_told(found) if "moved" in line]
    by = f"{found.jump.by_c:.1f} °C"
    assert told == f"From 2013 on its days span {by} more from lowest to highest. Was the thermometer moved?"
    found.jump = Jump(2013, -1.2, "the stations nearby")
    assert (
        "From 2013 on it reads 1.2 °C colder against the stations nearby. Was the thermometer moved?"
        in words.records_told(found)
    )


def test_hours_that_were_typed_are_what_my_slate_is_told_of(demo):
    needs = demo.cultivars["chill_requirement_h"].dropna()
    few, more = str(needs.idxmin()), str(needs.idxmax())
    unknown = str(demo.cultivars.index[demo.cultivars["chill_requirement_h"].isna()][0])
    bound = int(needs.min())
    asked = Question(demo, chill=(f"{bound}h",), shortlist=(few, more, unknown), station="maravel")
    (line,) = words.slate_told(asked)
    assert line == (
        f"Winter chill needed at most {bound} hours: 1 of my 3 ({few}). 1 need more ({more}). "
        f"Of 1 no need is on record in that unit ({unknown})."
    )
