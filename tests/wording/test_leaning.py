"""That a figure leans on the relatives of its cultivar is told where the figure is accounted for, and only there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from dashboard.answers import catalogue as catalogues
from dashboard.answers.dossier import dossier
from dashboard.answers.question import Question
from dashboard.estimates import EQUAL_FIRMNESS
from dashboard.wording.facts import facts
from dashboard.wording.trait_rows import value_rows


def test_what_leans_on_relatives_says_so(catalogue):
    size = catalogue.worth["size"]
    name, other = size.values.index[:2]
    leans = np.zeros(len(size.values))
    leans[0] = 0.123
    known = replace(catalogue, worth={**catalogue.worth, "size": replace(size, leans=leans)})
    for one, said in ((name, True), (other, False)):
        rows = {row["id"]: row["seasons"] for row in value_rows(Question(known, cultivar=one))}
        assert rows["size"].endswith("; leans on its relatives") == said
        assert "relatives" not in rows["sugar"]
        found = dossier(known, one)
        assert found is not None
        told = dict(facts(known, found, "us")).get("Leans on its relatives")
        assert told == ("without them its likely range would be wider: size by 12 %" if said else None)
    at_equal = Question(known, cultivar=name, ripeness="equal")
    assert not any("relatives" in row["seasons"] for row in value_rows(at_equal))


def test_parents_are_facts_of_a_cultivar(catalogue):
    listed = catalogue.cultivars.reset_index().assign(seed_parent=None, pollen_parent=None)
    listed.loc[0, ["seed_parent", "pollen_parent"]] = ["Old 17", "Old 18"]
    asked = []

    def worths(summaries, checks, relatives, shapes):
        asked.append(relatives)
        return {**catalogue.worth, **{key: catalogue.equal[trait] for trait, key in EQUAL_FIRMNESS.items()}}

    made = catalogues.catalogue(
        listed, catalogue.summaries, catalogue.fruit,
        sites=catalogue.sites, markets=catalogue.markets, worked_out=worths,
    )  # fmt: skip
    first = listed["cultivar"].iloc[0]
    assert asked == [made.relatives]
    assert made.relatives is not None
    assert made.relatives.parents == {first: ("Old 17", "Old 18")}
    found = dossier(made, first)
    assert found is not None
    told = dict(facts(made, found, "us"))
    assert (told["Seed parent"], told["Pollen parent"]) == ("Old 17", "Old 18")
    assert catalogue.relatives is None
    assert "seed_parent" not in catalogue.cultivars
