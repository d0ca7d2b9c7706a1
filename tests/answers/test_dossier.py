"""Everything the records say about one cultivar."""

from __future__ import annotations

import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers.dossier import dossier, limit_chances
from dashboard.estimates.one_season import BORROWED
from dashboard.terms.traits import FRUIT_TRAITS, TRAITS
from tests.estimates.trials import trial


def test_a_dossier_holds_all_there_is_on_one_cultivar(catalogue):
    found = dossier(catalogue, "Aldermere")
    assert found["facts"]["flesh_colour"] == "yellow"
    assert found["values"].index.tolist() == list(TRAITS)
    assert found["values"]["estimate"].dtype == float
    assert found["window"]["seasons"] == 4
    assert len(found["samples"]) == 12
    assert found["samples"]["date"].is_monotonic_increasing
    assert (found["samples"]["fruit"] == 10).all()
    assert len(found["fruit"]) == 120
    assert len(found["bloom"]) == 1
    assert found["yields"].empty


def test_a_dossier_says_where_trees_still_stand(catalogue):
    standing = dossier(catalogue, "Aldermere")["trees"]
    assert standing[["site", "row", "trees"]].values.tolist() == [["Hill", "1", 2], ["River", "4", 1]]
    assert dossier(catalogue, "Briskwell")["trees"].empty  # removed in 2020


def test_nobody_has_no_dossier(catalogue):
    assert dossier(catalogue, "Nobody") is None


def test_one_season_borrows_a_ratio_and_says_so(catalogue):
    """Where each cultivar was seen in one season, chances are given with what was borrowed for them, never silently."""
    summaries = trial(12, 2, 1)
    known = pd.DataFrame({"cultivar": sorted(summaries["cultivar"].unique())})
    fruit = pd.DataFrame({"cultivar": [], **{trait: [] for trait in FRUIT_TRAITS}})
    dated = summaries.assign(day=200.0, date=pd.Timestamp("2020-07-18"))
    made = catalogues.catalogue(known, dated, fruit, sites=catalogue.sites, markets=catalogue.markets)
    assert made.worth["size"].plan.one_season
    market = next(m for m in made.markets.values() if any(limit.key == "size" for limit in m.limits))
    for limit, answers in limit_chances(made, "C003", market, ""):
        if limit.key == "size":
            for chance, remark in answers.values():
                assert 0 <= chance <= 1
                assert f"borrowed ratio of {BORROWED:.2g}" in remark
