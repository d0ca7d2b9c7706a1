"""Hail, where somebody noted it."""

from __future__ import annotations

import pandas as pd

from dashboard.site.noted import hail_noted


def test_what_speaks_of_hail_is_found_and_nothing_else():
    notes = ["hail marks", "Some HAIL damage", "hailed", "whale", None, "wind"]
    samples = pd.DataFrame(
        {
            "cultivar": list("ABCDEF"),
            "site": "hill",
            "date": pd.to_datetime(["2016-07-05"] * 5 + ["2017-07-05"]),
            "note": pd.Series(notes, dtype="str"),
        }
    )
    found = hail_noted(samples)
    assert found.to_dict("list") == {"cultivar": ["A", "B", "C"], "site": ["hill"] * 3, "year": [2016] * 3}
    assert hail_noted(samples.drop(columns="note")).empty
    assert hail_noted(samples.iloc[:0]).empty


def test_the_tab_and_the_card_tell_it(demo):
    """Counted in the demo's own file: 19 samples say "hail marks"."""
    from dashboard.answers.question import Question
    from dashboard.wording.facts import facts
    from dashboard.wording.my_site import records_told

    noted = demo.records_tables["hail"]
    assert len(noted) == 19
    asked = Question(demo, station="maravel")
    here = noted[noted["site"] == "maravel"]
    assert records_told(asked.my_site)[-1].startswith(f"Hail is noted on {len(here)} samples here, in ")
    name = here["cultivar"].iloc[0]
    assert dict(facts(demo, asked.dossier_of(name), "us"))["Hail noted"].startswith("1 sample, ")
