"""What stands round a picture that leaves the page: for whom, of whom, on what it rests, and of which day."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from dashboard.answers.question import Question
from dashboard.ripening import written_for
from dashboard.wording.pictures import file_name, market_line, over, under

DAY = dt.date(2026, 11, 28)


def test_the_market_its_limits_and_who_passes_stand_over_it(demo):
    asked = Question(demo, market="regional_wholesale", flesh_colour=("white",))
    market, passing = over(asked)
    assert market.startswith("Market: Regional wholesale. Limits: ")
    for limit in ("size at least 2.375 in", "firmness at least 8.0 lb", "sugar at least 8.0 °Brix"):
        assert limit in market
    assert f"{asked.own_count.qualify} qualify for Regional wholesale" in market
    assert passing.startswith(f"{int(asked.passes.sum())} cultivars pass; filters: ")
    assert "white" in passing
    assert "60.3 mm" in market_line(replace(asked, units="si"), asked.profile)  # 2.375 in of 25.4 mm each


def test_without_a_market_that_is_said(demo):
    assert over(Question(demo)) == ["No market chosen.", f"{int(Question(demo).passes.sum())} cultivars pass; filters: none."]  # fmt: skip


def test_what_it_rests_on_begins_with_that_it_is_invented_and_ends_with_the_day(demo):
    with written_for("en-US"):
        evidence, made = under(Question(demo), DAY)
    assert evidence.startswith(f"Invented example: {demo.records_title}. {len(demo.summaries):,} samples of {int((demo.windows['seasons'] > 0).sum())} sampled cultivars at ")  # fmt: skip
    assert "fruit as picked" in evidence
    assert evidence.endswith(f"data version {demo.version}.")
    assert made == "Made Nov 28, 2026."
    with written_for("en-GB"):
        assert under(Question(demo), DAY)[1] == "Made 28 Nov 2026."


def test_records_of_one_s_own_are_no_invented_example(catalogue):
    assert not under(Question(replace(catalogue, invented=False)), DAY)[0].startswith("Invented")


def test_the_site_and_equal_firmness_are_told(demo):
    asked = Question(demo, site=str(demo.sites["site"].iloc[0]), ripeness="equal")
    assert "size and sugar at equal firmness" in under(asked, DAY)[0]
    assert str(demo.sites["name"].iloc[0]) in under(asked, DAY)[0]


def test_a_file_is_named_by_what_it_shows_and_its_day():
    assert file_name("season", DAY, "svg") == "orchard-slate-season-2026-11-28.svg"
