"""A notebook's answers are the page's own, in the reader's units, with dates that are dates."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, replace

import numpy as np
import pandas as pd
import pytest

from dashboard import Asked, Records
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.choices import FILTERS
from dashboard.answers.planning import plan
from dashboard.answers.question import Question
from dashboard.answers.stand_ins import stand_ins
from dashboard.calls import choices, columns
from dashboard.calls.choices import CALLED
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF

MINE = {
    "name": "Farm shop",
    "limit": [{"trait": "size", "at_least": 2.5, "unit": "in"}],
    "wish": [{"trait": "sugar", "shape": "larger", "from": 9, "to": 14}],
}


def test_it_asks_what_the_page_asks(demo: Catalogue, records: Records):
    asked = records.ask(
        "Roadside stand", flesh_color="Yellow", chill="600 hours", site="Maravel Station", seasons=3
    )
    same = Question(
        demo, market="roadside_stand", flesh_colour=("yellow",), chill=("600h",), site="maravel", seasons=3, season_kind="any"
    )  # fmt: skip
    assert asked.question == same
    assert asked.question.ranking is same.ranking  # worked out once for both


def test_a_question_never_changes(ask: Asked):
    with pytest.raises(FrozenInstanceError):
        ask.question = None  # type: ignore[misc, assignment]
    other = ask.but(units="si", pit=["free", "cling"])
    assert (ask.question.units, other.question.units) == ("us", "si")
    assert other.question.stone == ("free", "cling")
    assert other.but(units=None, pit=None) == ask


def test_a_ranking_is_the_page_s_with_units_in_its_columns(ask: Asked):
    rows, us, si = ask.question.ranking, ask.ranking("all"), ask.but(units="si").ranking()
    assert list(us.index) == list(rows.index)
    assert us.index.name == "cultivar"
    np.testing.assert_allclose(us["size_in"] * MM_PER_INCH, rows["size"])
    np.testing.assert_allclose(si["size_mm"], rows["size"])
    np.testing.assert_allclose(us["firmness_lbf_low"] * N_PER_LBF, rows["firmness_low"])
    np.testing.assert_allclose(us["score"], 100 * rows["score"])
    np.testing.assert_allclose(us["chance_pct"], 100 * rows["clears"])
    assert us["verdict"].tolist() == rows["verdict"].astype(str).tolist()
    assert {
        "chill_hours",
        "bacterial_spot",
        "yield_lb_per_tree",
        "price_usd_lowest",
        "flesh_color",
        "pit",
    } <= set(us.columns)


def test_every_column_of_the_page_can_be_asked_for(few: Records):
    usual = set(few.ask("Packer").ranking().columns)
    for key in columns.OFFERED:
        assert set(few.ask("Packer").ranking(key).columns) > usual, key
    assert set(few.ask().ranking("leads").columns) == set(
        few.ask().ranking().columns
    )  # there is nobody to lead for


def test_dates_are_dates_of_the_season_to_come(ask: Asked, demo: Catalogue):
    season = ask.season()
    days = season["first_pick"].dropna()
    assert str(season["first_pick"].dtype) == "datetime64[us]"
    assert set(days.dt.year) == {int(demo.summaries["season"].max()) + 1}
    told = pd.Series(np.floor(ask.question.windows["first"] + 0.5).astype(int), index=season.index)
    year = days.dt.year + 0
    assert ((days.dt.day_of_year - (days.dt.is_leap_year & (days.dt.month > 2))) == told).all()
    assert f"written in {year.iloc[0]}" in " ".join(season.evidence)


def test_southern_dates_begin_in_july_of_the_year_before(demo: Catalogue):
    southern = replace(demo, south=True)
    got = columns.dates(southern, [1.0, 184.0, 185.0, float("nan")])
    season = columns.season_to_come(southern)
    told = [None if day is pd.NaT else day.strftime("%Y-%m-%d") for day in got]
    assert told == [f"{season - 1}-07-01", f"{season - 1}-12-31", f"{season}-01-01", None]


def test_why_tells_every_limit_and_wish(ask: Asked):
    name = str(ask.ranking().index[0])
    told, market = ask.why(name), ask.question.profile
    assert market is not None
    assert (told["part"] == "limit").sum() == len(market.limits)
    assert (told["part"] == "wish").sum() == len(market.wishes)
    assert told.said[0].startswith(f"{name}: Qualifies")
    assert ask.but(market=None).why(name).said[0].endswith("Ask for a market to be told what it says.")


def test_what_is_said_of_two_is_what_the_page_says(ask: Asked):
    names = tuple(map(str, ask.ranking().index[:3]))
    told = ask.compare(*names)
    assert tuple(told.index) == names
    found = replace(ask.question, beside=names).side_by_side
    assert found is not None
    assert len([line for line in told.said if "chance of being mistaken" in line]) == len(found.real) > 0
    assert told["days_after"].min() == 0


def test_stand_ins_take_any_number_of_days(ask: Asked, demo: Catalogue):
    name = str(ask.ranking().index[2])
    asked = ask.question
    told = ask.stand_ins(name, days=12)
    page = stand_ins(demo, name, asked.profile, asked.basis, 12, ())
    assert list(told.index) == [one.name for one in page]
    assert told["days_later"].abs().max() <= 12
    assert ask.stand_ins(name, days=0).said[0].startswith("No cultivar of the same class")


def test_gaps_are_those_of_the_page(ask: Asked):
    slate = list(ask.ranking().index[:5])
    told, cover = ask.gaps(of=slate), replace(ask.question, shortlist=tuple(slate)).cover
    assert cover is not None
    assert len(told) == len(cover.gaps) > 0
    np.testing.assert_allclose(told["chance_pct"], [100 * gap.chance for gap in cover.gaps])
    assert ((told["last"] - told["first"]).dt.days + 1 == told["days"]).all()
    assert ask.but(slate=slate).gaps().equals(told)
    assert told["would_help"].str.contains("days").any()


def test_a_plan_is_the_page_s(ask: Asked):
    told = ask.plan("Jul 1", "Jul 31", most=4, never="Oskondo")
    asked = ask.but(opens="Jul 1", closes="Jul 31").question.wanted
    page = plan(replace(asked, pool=asked.pool._replace(barred=("Oskondo",), offered=True), most=4))
    assert tuple(told.index) == page.names
    assert "Oskondo" not in told.index
    assert told.said[0].startswith(f"{len(page.names)} cultivars. ")


def test_a_market_of_one_s_own_is_asked_once_for_all(records: Records):
    first, again = records.ask(MINE), records.ask({**MINE})
    assert first.question == again.question
    assert first.question.ranking is again.question.ranking
    assert first.question.profile is not None
    assert first.question.profile.name == "Farm shop"
    assert first.but(market="roadside_stand", second_market=MINE).question.buyers[1].name == "Farm shop"  # type: ignore[union-attr]


def test_every_filter_has_its_name_and_takes_every_option(few: Records):
    assert {*choices.CALLED.values(), choices.NOTED} == set(
        FILTERS
    )  # a table of one's own goes by its columns
    assert not {name for name in choices.CALLED if "colour" in name}
    for name, field in choices.CALLED.items():
        for option in FILTERS[field].options(few.catalogue):
            if field != "chill" and option is not None:
                value = getattr(few.ask(**{name: option}).question, field)
                assert value in (option, (option,)), name
        assert getattr(few.ask(**{name: None}).question, field) == FILTERS[field].default


@pytest.mark.parametrize(
    ("asked", "field", "value"),
    [
        ({"picked_in": "July"}, "ripening", ("07a", "07b")), ({"picked_in": ["jul", "Aug 1-15"]}, "ripening", ("07a", "07b", "08a")),
        ({"chill": "650 hours"}, "chill", ("650h",)), ({"chill": "38 chill portions"}, "chill", ("38cp",)), ({"chill": ["650h"]}, "chill", ("650h",)),
        ({"pit": "Freestone"}, "stone", ("free",)), ({"flesh_colour": "WHITE"}, "flesh_colour", ("white",)), ({"seasons": np.int64(4)}, "seasons", 4),
        ({"units": "metric"}, "units", "si"), ({"year": "Early"}, "season_kind", "early"), ({"opens": pd.Timestamp("2027-06-10")}, "opens", "06-10"),
        ({"certainty": 9}, "certainty", 9), ({"bacterial_spot": 2}, "bacterial_spot", 2), ({"flesh_color": []}, "flesh_colour", ()),
        ({"chill": ["650 hours", "40 portions", "650h"]}, "chill", ("650h", "40cp")), ({"seasons": [3, 2]}, "seasons", 2), ({"bacterial_spot": (1, 3)}, "bacterial_spot", 3),
        ({"chill": []}, "chill", ()), ({"seasons": []}, "seasons", 1), ({"nursery": ["Quillory Nursery", "any"]}, "nursery", ("Quillory Nursery", "any")),
    ],
)  # fmt: skip
def test_what_may_be_written(records: Records, asked, field, value):
    assert getattr(records.ask(**asked).question, field) == value


@pytest.mark.alike(4)
@pytest.mark.parametrize("name", [*CALLED])
def test_every_filter_takes_one_value_or_a_list_of_them(few: Records, name: str):
    """Who passes any of the list passes: as many as pass one of its values alone."""
    field = CALLED[name]
    every = ["600 hours", "40 portions"] if field == "chill" else [one for one in FILTERS[field].options(few.catalogue) if one is not None][:3]  # fmt: skip
    alone = [set(few.ask(**{name: one}).ranking().index) for one in every]
    assert set(few.ask(**{name: every}).ranking().index) == set().union(*alone)
    assert few.ask(**{name: every[:1]}).question == few.ask(**{name: every[0]}).question
    assert few.ask(**{name: []}).question == few.ask().question


def test_a_bound_on_chill_takes_any_number(records: Records):
    needed = records.cultivars["chill_hours"]
    for hours in (640, 650, 651):
        assert set(records.ask(chill=f"{hours} hours").ranking().index) == set(needed.index[needed <= hours])


def test_those_left_out_for_want_of_a_record_are_counted(records: Records):
    told = " ".join(records.ask(chill="650 hours").ranking().evidence)
    picked = records.ask().ranking().index  # the others have no season of evidence
    missing = int(records.cultivars.loc[picked, "chill_hours"].isna().sum())
    assert f"{missing} left out" in told


def test_nothing_left_says_why(records: Records):
    told = records.ask(chill="50 hours").ranking()
    assert len(told) == 0
    assert "No cultivar passes" in told.said[0]
    assert "No cultivar passes" in told._repr_html_()


def test_records_tell_what_they_hold(records: Records, demo: Catalogue):
    assert set(records.markets.index) == set(demo.markets)
    assert records.find("oskn") == ("Oskondo",)
    fruit = records.fruit("oskondo", units="si")
    np.testing.assert_allclose(
        fruit["size_mm"].sum(), demo.fruit.loc[demo.fruit["cultivar"] == "Oskondo", "size"].sum()
    )
    assert fruit["date"].is_monotonic_increasing
    sugar = records.estimates("Sugar")
    assert sugar["sugar_brix"].is_monotonic_decreasing
    np.testing.assert_allclose(sugar["sugar_brix_se"], demo.values["sugar"]["se"].reindex(sugar.index))
    there, known = (
        records.estimates("size", units="si", site="maravel"),
        demo.figures[Basis("maravel")]["size"],
    )
    np.testing.assert_allclose(there["size_mm"], known["estimate"].reindex(there.index))
    assert len(records.problems) == len(demo.problems) + len(demo.market_problems)


def test_they_are_told_in_one_line(records: Records, ask: Asked):
    assert len(repr(records)) < 120
    assert repr(ask) == "<Asked of Larrow Valley peach and nectarine trials: Roadside stand>"


def test_an_answer_is_at_hand_the_next_time_and_still_belongs_to_who_asked(ask: Asked):
    first = ask.ranking()
    first["size_in"] = 0.0
    first.attrs["said"].append("Mine alone.")
    again = ask.ranking()
    assert (again["size_in"] > 0).any()
    assert "Mine alone." not in again.said
    assert again.picture() is not None
    assert type(again) is type(first)


def test_an_answer_stands_for_its_rows_and_a_column_that_is_always_there_may_be_asked_for(ask: Asked):
    plan = ask.plan("Jun 10", "Jul 10", most=2)
    assert ask.season(of=plan).index.sort_values().equals(plan.index.sort_values())
    assert list(ask.ranking(columns="sugar").columns) == list(ask.ranking().columns)
    with pytest.raises(ValueError, match="did you mean 'sugar'"):
        ask.ranking(columns="suger")
