"""What is taken for a reading of a trait, and what is set aside with a sentence."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.estimates.readings import FARTHEST, readings
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


@pytest.mark.parametrize(
    ("value", "why"),
    [
        (np.inf, "reads inf for size, which is no number"),
        (-60.0, "reads -60 for size, which cannot be"),
    ],
)
def test_why_a_reading_was_set_aside_word_for_word(value, why):
    frame = trial()
    assert readings(with_value(frame, value), "size").aside == (
        f"Sample S5 of {frame.loc[5, 'cultivar']} {why}; it was set aside.",
    )


def test_what_lies_too_far_off_is_set_against_the_middle():
    """Nearly all read 60, so the spread is taken as a quarter of that: 15 mm."""
    frame = trial().assign(size=60.0)
    aside = readings(with_value(frame, 60 + 15 * FARTHEST + 1), "size").aside
    assert aside == (
        f"Sample S5 of {frame.loc[5, 'cultivar']} reads {61 + 15 * FARTHEST:.6g} for size, more than {FARTHEST:g} times the usual "
        "spread from the middle of all samples, 60; it was set aside.",
    )
    assert readings(with_value(frame, 60 + 15 * FARTHEST), "size").aside == ()
