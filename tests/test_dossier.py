"""Everything the records say about one cultivar."""

from __future__ import annotations

from dashboard.dossier import dossier
from dashboard.traits import TRAITS


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
