"""What the handouts are asked for, and records under names and words that try to be something else."""

from __future__ import annotations

import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from tests.conftest import market_set

ASKED = [
    ("roadside_stand", "us", ""), ("long_distance_shipper", "si", "ondry"), ("", "us", ""),
]  # fmt: skip
NAMES = ("Trenirrin", "Aldrum", "K18-193", "Zelmor")


@pytest.fixture(scope="module", params=ASKED, ids=lambda one: "-".join(filter(None, one)))
def asked(request, demo) -> Question:
    market, units, site = request.param
    return Question(demo, market=market, units=units, site=site, shortlist=NAMES)


@pytest.fixture(scope="session")
def hostile(catalogue, summaries, fruit):
    """The coined cultivars, their sites, notes and title, under text that is no text."""
    from tests.handout.test_hostile import HOSTILE

    cultivars = catalogue.cultivars.drop(index="Unpicked").reset_index()
    cultivars = cultivars.assign(note=["<img src=x> " * 90] * len(cultivars), protected=True)
    renamed = [
        frame.assign(cultivar=frame["cultivar"].astype(str).replace(HOSTILE))
        for frame in (cultivars, summaries, fruit)
    ]
    return catalogues.catalogue(
        *renamed, sites=catalogue.sites.assign(name=["H" * 120, "<i>River</i> 🍑"]), markets=market_set(), version="hostile",
        records_title="<h1>Title</h1> " + "T" * 300, invented=True,
    )  # fmt: skip
