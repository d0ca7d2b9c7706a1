"""What is taken for a reading of a trait, and what is set aside with a sentence."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.estimates.readings import readings
from tests.estimates.trials import judged, trial


def with_value(frame, value, trait="size", row=5):
    changed = frame.copy()
    changed.loc[row, trait] = value
    return changed


def test_a_slip_of_a_million_is_set_aside_with_the_sample_named():
    frame = trial()
    read = readings(with_value(frame, 1e6), "size")
    assert len(read) == len(frame) - 1
    assert read.y.max() < 100
    assert len(read.aside) == 1
    assert "S5" in read.aside[0]
    assert "1e+06" in read.aside[0]


@pytest.mark.parametrize(("trait", "value"), [("size", np.inf), ("size", -60.0), ("attractiveness", 11.0)])
def test_what_cannot_be_is_set_aside(trait, value):
    frame = judged(trial()) if trait == "attractiveness" else trial()
    read = readings(with_value(frame, value, trait), trait)
    assert len(read) == len(frame) - 1
    assert "set aside" in read.aside[0]


def test_a_missing_reading_is_left_out_without_a_word():
    read = readings(with_value(trial(), np.nan), "size")
    assert len(read) == len(trial()) - 1
    assert read.aside == ()


def test_an_ordinary_large_fruit_stays():
    frame = trial()
    assert readings(with_value(frame, frame["size"].max() + 10), "size").aside == ()


def test_the_demo_records_hold_no_slip(demo):
    for trait in demo.worth:
        assert readings(demo.summaries, trait).aside == ()


def test_site_seasons_are_numbered_without_gaps():
    read = readings(trial(sites=3, seasons=2), "size")
    assert sorted(set(read.environment)) == list(range(6))
