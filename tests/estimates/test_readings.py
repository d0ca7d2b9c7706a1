"""What is taken for a reading of a trait, and what is set aside with a sentence."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from dashboard.estimates.readings import FARTHEST, bounds, floats, readings
from dashboard.terms.traits import UNKNOWN
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


@pytest.mark.parametrize(
    ("values", "middle", "spread"),
    [
        (
            np.linspace(30, 110, 48),
            70.0,
            80 / 47 * 12 * 1.4826,
        ),  # evenly: half of them within a quarter of the range
        (np.repeat([20.0, 110.0], [30, 18]), 20.0, 90 / 1.349),  # from one quartile to the other
    ],
    ids=["by the middle distance", "by the quartiles"],
)
def test_what_is_usual_is_a_robust_standard_deviation(values, middle, spread):
    """1.4826 median deviations, or the quartile range over 1.349, are a normal law's standard deviation (Huber 1981)."""
    frame = trial(12, 2, 2, 1).assign(size=values)
    one = trial(1, 1, 1, 1).assign(cultivar="C000", sample="far")
    for beyond, aside in ((0.99, 0), (1.01, 1)):
        far = pd.concat([frame, one.assign(size=middle + FARTHEST * spread * beyond)]).reset_index(drop=True)
        assert len(readings(far, "size").aside) == aside


def test_readings_at_the_ends_of_a_scale_stay():
    frame = judged(trial())
    for value in bounds("attractiveness"):
        assert readings(with_value(frame, value, "attractiveness"), "attractiveness").aside == ()
    assert bounds("attractiveness") == (0, 10)
    assert bounds("split_pit") == (0, 100)
    assert bounds("size") == (0, np.inf)


def test_samples_without_a_name_are_told_by_their_row():
    frame = trial().drop(columns="sample")
    assert readings(with_value(frame, np.inf), "size").aside[0].startswith("Sample 5 of C000 reads inf")


def test_what_is_read_is_coded_in_the_order_of_names():
    frame = trial(4, 3, 2, 1).sample(frac=1, random_state=1).reset_index(drop=True)
    frame.loc[frame["cultivar"] == "C002", "size"] = np.nan
    frame.loc[0, "site"] = np.nan
    read, kept = readings(frame, "size"), frame[frame["size"].notna()]
    assert read.cultivars.tolist() == ["C000", "C001", "C002", "C003"]
    assert read.cultivars[read.cultivar].tolist() == kept["cultivar"].tolist()
    assert read.sites.tolist() == ["Hill", "River", "Terrace", UNKNOWN]
    assert read.sites[read.site].tolist() == kept["site"].fillna(UNKNOWN).tolist()
    assert read.seasons[read.season].tolist() == kept["season"].tolist()
    for held, column in ((read.y, "size"), (read.n, "size_n"), (read.ss, "size_ss"), (read.pick, "pick")):
        assert held.tolist() == kept[column].tolist()
    place = kept["site"].fillna(UNKNOWN) + kept["season"].astype(str)
    assert read.environment.tolist() == pd.factorize(place, sort=True)[0].tolist()
    some = read.take(read.site == 1)
    assert len(some) == (kept["site"] == "River").sum()
    assert some.firmness.tolist() == kept.loc[kept["site"] == "River", "firmness"].tolist()


def test_a_column_with_gaps_of_any_kind_is_floats():
    frame = pd.DataFrame({"size": pd.Series([60, pd.NA, 62], dtype=object)})
    assert floats(frame, "size").tolist() == pytest.approx([60, np.nan, 62], nan_ok=True)
    assert np.isnan(floats(frame, "sugar")).tolist() == [True] * 3


@pytest.mark.parametrize("value", [-60.0, np.inf, 1e6, 60.0])
def test_a_sample_of_no_cultivar_is_left_out_whatever_it_reads(value):
    frame = with_value(trial(), value)
    frame.loc[5, "cultivar"] = None
    read = readings(frame, "size")
    assert len(read) == len(frame) - 1
    assert read.aside == ()
