"""What a reader is told of fruit that no instrument could read to the end."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.terms.units import N_PER_LBF
from dashboard.wording.past_ends import past_ends

_ROWS = [
    ("S1", 5.0, "firmness 1", "above", 13 * N_PER_LBF, None), ("S1", 5.0, "firmness 2", "above", 13 * N_PER_LBF, None),
    ("S1", 9.0, "ssc", "below", None, 9.0), ("S2", 1.0, "ssc", "below", None, 9.0),
]  # fmt: skip
BEYOND = pd.DataFrame(_ROWS, columns=["sample", "fruit", "reading", "side", "firmness_n", "ssc_brix"])


@pytest.mark.parametrize(
    ("sample", "units", "told"),
    [
        ("S1", "us", "Past the end of the instrument: 2 cheeks above 13.0 lb (fruit 5); 1 fruit below 9.0 °Brix (fruit 9). The mean of the sample allows for them."),
        ("S1", "si", "Past the end of the instrument: 2 cheeks above 58 N (fruit 5); 1 fruit below 9.0 °Brix (fruit 9). The mean of the sample allows for them."),
        ("S3", "us", ""),
    ],
)  # fmt: skip
def test_each_end_is_told_once_in_the_readers_units(sample, units, told):
    assert past_ends(BEYOND, sample, units) == told


def test_many_are_counted_and_none_are_not_spoken_of():
    many = pd.DataFrame(
        [("S", float(n), "ssc", "above", None, 20.0) for n in range(1, 9)], columns=BEYOND.columns
    )
    assert ": 8 fruit above 20.0 °Brix. " in past_ends(many, "S", "us")
    assert past_ends(None, "S", "us") == past_ends(BEYOND[:0], "S", "us") == ""
