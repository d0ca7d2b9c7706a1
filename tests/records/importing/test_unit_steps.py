"""A gauge that was changed within a sheet is flagged where its figures begin; a season as it is is not."""

from __future__ import annotations

import pytest

from dashboard.terms.units import N_PER_KGF, N_PER_LBF
from tests.records.importing.season import came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

HEAD = [heading.replace(" (N)", "") for heading in LONG]


@pytest.mark.parametrize(("unit", "told"), [(1.0, ""), (N_PER_LBF, "1/4.4 of"), (N_PER_KGF, "1/9.8 of")])
def test_a_unit_that_changes_from_a_day_on_is_flagged_there(tmp_path, unit, told):
    """Newtons for two weeks, then another gauge: what stands below is by so much smaller."""
    samples = season(4)
    for sample in samples[1:]:  # of one level, so that the step is the unit's alone
        sample.pounds = samples[0].pounds
    rows = long_rows(samples)
    for row in rows:
        row[6:8] = [value / (unit if row[2] >= samples[10].day.isoformat() else 1) for value in row[6:8]]
    outcome, _ = came_in([csv_file(tmp_path / "a.csv", HEAD, rows)], tmp_path / "trial", {"unit": "n"})
    steps = [one for one in outcome.problems if "from this day on" in one.rule]
    assert [(one.row, one.column) for one in steps] == ([(102, "G"), (102, "H")] if told else [])
    assert all(told in one.rule for one in steps)
