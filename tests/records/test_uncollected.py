"""The collector waits while rows come in, and goes on afterwards whatever happened."""

from __future__ import annotations

import gc

import pytest

from dashboard.records.problems import RecordError
from dashboard.records.store.bringing import bring
from dashboard.records.uncollected import uncollected


def test_the_collector_waits_inside_and_one_inside_another_changes_nothing():
    with uncollected():
        assert not gc.isenabled()
        with uncollected():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()


def test_it_goes_on_after_a_fault_and_stays_off_where_it_was_off(tmp_path):
    with pytest.raises(RecordError):
        bring(tmp_path / "trial.store", tmp_path / "nothing", "Ada")
    assert gc.isenabled()
    gc.disable()
    try:
        with uncollected():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()
