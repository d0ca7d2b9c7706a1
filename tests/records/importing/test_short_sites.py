"""A short word for a site stands beside sites with a name: it may be one of them, so nobody is offered that it is another."""

from __future__ import annotations

import pytest

from dashboard.records.importing.incoming import bring_in
from tests.records.importing.season import season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows


@pytest.mark.parametrize(
    ("sites", "offered"),
    [
        (("Lowbank", "Highterrace"), {"Lowbank": "Lowbank", "Highterrace": "Highterrace"}),
        (("Lowbank", "L1", "H2"), {"Lowbank": "Lowbank", "L1": "", "H2": ""}),
        (("L1", "H2"), {"L1": "L1", "H2": "H2"}),
    ],
)
def test_of_new_sites(tmp_path, sites, offered):
    file = csv_file(tmp_path / "a.csv", LONG, long_rows(season(1, sites=sites)))
    questions = bring_in([file], tmp_path / "trial").questions
    assert {one.path[1]: one.proposal for one in questions if one.path[0] == "sites"} == offered
