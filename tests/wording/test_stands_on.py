"""What every answer stands on: counted, and what is missing named."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pandas as pd

from dashboard.records.problems import Problem, Whose
from dashboard.terms.traits import UNKNOWN
from dashboard.wording.stands_on import MOST_FACTS, NO_FORETELLING, counts, held, not_recorded, unsaid


def test_what_is_to_mend_to_look_at_and_fine_is_counted():
    place = ("samples.csv", "", 2, "firmness", "9x", "is no number")
    problems = [
        Problem("error", *place),
        Problem("flag", *place, sure=True),
        Problem("flag", *place, whose=Whose("S1")),
    ]
    known = SimpleNamespace(
        summaries=pd.DataFrame({"season": [2019, 2021], "sample": ["S1", "S2"], "date": pd.to_datetime(["2019-07-01", None])}),
        problems=problems, records_title="T", windows=pd.DataFrame({"seasons": [2, 0]}), sites=[1, 2],
        fruit=pd.DataFrame({"sample": ["S1", "S2"]}), version="v",
    )  # fmt: skip
    lines = " ".join(held(known))
    assert "To mend: 2 places; to look at: 1; fine: 1 of 2 samples." in lines
    assert "the newest picked Jul 1, 2019." in lines
    assert "1 sampled cultivar at 2 sites, seasons 2019 to 2021; 1 more is listed without a sample." in lines


def test_sites_seasons_samples_and_fruit_are_those_of_the_records(demo):
    said = " ".join(counts(demo))
    for number in (
        int((demo.windows["seasons"] > 0).sum()),
        len(demo.sites),
        len(demo.summaries),
        len(demo.fruit),
    ):
        assert f"{number:,} " in said
    assert f"seasons {demo.summaries['season'].min():.0f} to {demo.summaries['season'].max():.0f}" in said


def test_who_was_never_sampled_or_in_one_season_only_is_counted(demo):
    seasons = demo.summaries.dropna(subset="season").groupby("cultivar")["season"].nunique()
    seasons = seasons.reindex(demo.cultivars.index).fillna(0)
    first = unsaid(demo)[0]
    assert f"{(seasons == 0).sum()} never sampled" in first
    assert f"{(seasons == 1).sum()} seen in one season only" in first


def test_facts_that_are_missing_are_named_the_most_first(demo):
    found = dict(not_recorded(demo))
    assert len(found) == MOST_FACTS
    assert list(found.values()) == sorted(found.values(), reverse=True)
    known = demo.cultivars
    assert found["bacterial spot"] == known["bacterial_spot"].isna().sum()
    assert found["pit"] == (known["stone"] == UNKNOWN).sum()
    bare = replace(
        demo,
        cultivars=known.assign(chill_requirement_cp=np.nan, chill_requirement_h=np.nan),
        records_tables={},
    )
    everybody = dict(not_recorded(bare))
    assert everybody["winter chill"] == everybody["yield"] == len(known)
    assert f"winter chill of {len(known)}" in " ".join(unsaid(bare))


def test_what_no_records_tell_is_said_of_any(catalogue):
    assert unsaid(catalogue)[-1] == NO_FORETELLING
    refused = replace(catalogue, ripening=replace(catalogue.ripening, refused="No days of picking."))
    assert "No days of picking." in unsaid(refused)
