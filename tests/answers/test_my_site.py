"""The place that trees are to stand at: station, a place beside it, or weather that was brought."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers.choices import FILTERS
from dashboard.answers.my_site import MySite, enough_in, my_site, own_site, stations_of, unused_of
from dashboard.answers.question import Question
from dashboard.site.frost import STAGES
from dashboard.site.needs import enough
from tests.site.places import place, weather


def test_the_stations_are_the_sites_with_weather(well_recorded, catalogue):
    assert list(stations_of(well_recorded)) == ["Hill", "River"]
    assert stations_of(catalogue) == {}
    assert Question(catalogue).my_site is None


def test_the_place_is_the_site_of_the_figures_unless_another_is_asked_for(well_recorded):
    assert Question(well_recorded).my_site.name == "Hill"
    assert Question(well_recorded, site="River").my_site.name == "River"
    assert Question(well_recorded, site="River", station="Hill").my_site.name == "Hill"
    assert Question(well_recorded).my_site is Question(well_recorded, market="packer").my_site


def test_a_place_above_a_station_without_elevations_is_refused_in_a_sentence(well_recorded):
    found = Question(well_recorded, higher=60).my_site
    assert (
        found.refused
        == "The elevation of Hill is not on record, so nothing can be said of a place above or below it."
    )
    assert found.bloomed is None
    assert found.assured == {}


def test_what_gets_enough_is_in_catalogue_order(well_recorded):
    found = my_site(well_recorded, "Hill", "", 0)
    assert found.enough.equals(enough(well_recorded.cultivars, found.winters))
    assert list(found.enough.index) == list(well_recorded.cultivars.index)


def test_the_filter_lets_pass_what_the_column_tells(well_recorded):
    options = FILTERS["enough"].options(well_recorded)
    assert options
    told = my_site(well_recorded, "Hill", "", 0).enough["enough"]
    for option in options:
        least, _, key = option.partition(" ")
        if key == "Hill":
            assert list(enough_in(well_recorded, option)) == list((told >= int(least) / 10 - 1e-9).to_numpy())
    asked = Question(well_recorded, enough=(options[0],))
    assert 0 < asked.passes.sum() < len(asked.passes)
    assert not enough_in(well_recorded, "9 nowhere").any() or "nowhere" not in stations_of(well_recorded)


def test_weather_that_was_brought_stands_in_place_of_the_station(well_recorded):
    own = own_site(well_recorded, place("My orchard"), None)
    asked = Question(well_recorded, weather=own)
    assert asked.my_site is own
    assert replace(asked, market="packer").my_site is own


def test_few_winters_of_ones_own_move_the_station(well_recorded):
    here = place("Long Station")
    days = weather()
    late = days[days["date"] >= "2023-06-01"]
    from dashboard.site.station import station

    own = station(late.assign(tmin_c=late["tmin_c"] + 1.0), "My orchard", 33.0)
    found = own_site(well_recorded, own, here)
    assert found.refused == ""
    assert len(found.winters.years) == 25
    assert found.station.tmin == pytest.approx(here.tmin + 1.0, abs=0.05)
    assert own_site(well_recorded, own, None).refused.startswith("My orchard has 2 whole winters")


def test_a_station_that_cannot_be_used_says_why(well_recorded):
    tables = {
        **well_recorded.records_tables,
        "weather": weather("2020-01-01", "2021-12-31").assign(site="Hill"),
    }
    short = replace(well_recorded, records_tables=tables)
    assert stations_of(short) == {}
    assert unused_of(short) == ("Hill has 1 whole winter on record; 5 are needed.",)


def test_bloom_and_frost_of_the_demo(demo):
    found = my_site(demo, "maravel", "", 0)
    bloomed = found.bloomed
    assert bloomed.day.shape == bloomed.lost.shape == (25, len(demo.cultivars))
    assert ((bloomed.lost >= 0) & (bloomed.lost <= 1)).all()
    assert bloomed.by_stage.shape == (len(STAGES), *bloomed.lost.shape)
    assert (bloomed.by_stage <= bloomed.lost + 1e-12).all()  # the worst night counts alone
    assert (bloomed.lost <= bloomed.by_stage.sum(axis=0) + 1e-12).all()
    seen = demo.records_tables["bloom"]
    here = seen[(seen["site"] == "maravel") & seen["year"].isin(bloomed.years)]
    at = demo.cultivars.index.get_indexer(here["cultivar"])
    row = [bloomed.years.index(int(year)) for year in here["year"]]
    off = np.abs(bloomed.day[row, at] - here["full_bloom"].dt.day_of_year.to_numpy())
    assert (off <= bloomed.half[row, at]).mean() > 0.85


def test_without_bloom_records_no_bloom_is_told(well_recorded):
    found = my_site(well_recorded, "Hill", "", 0)
    assert found.bloom_refused.startswith("Bloom dates need 20 records in 3 springs with weather")
    assert MySite(well_recorded, found.station, "Hill").bloomed is None


def test_a_market_asks_winters_of_a_place_that_was_chosen(well_recorded):
    """The first station stands in for a place on My site; a limit is not passed by it."""
    own = ("enough_chill at_least 9",)
    nobody = Question(well_recorded, own=own)
    assert set(nobody.fit["verdict"]) == {"not known"}
    asked = Question(well_recorded, own=own, station="Hill")
    told = asked.my_site.enough["enough"]
    chance = asked.fit["clears"]
    assert chance.isna().equals(told.isna())
    assert asked.fit["by_averages"].equals(told >= 0.9 - 1e-9)
    assert (chance[told == 1] == 1).all()
    assert Question(well_recorded, own=own, site="Hill").fit["verdict"].equals(asked.fit["verdict"])
    assert not Question(well_recorded, own=own, weather=asked.my_site).fit["verdict"].eq("not known").all()
    assert asked.own_count.qualify == int((asked.fit["verdict"] == "qualifies").sum())
