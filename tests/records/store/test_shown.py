"""The page's catalogue of a store: new records for whoever comes, the old for whoever is here."""

from __future__ import annotations

import time

from dashboard.answers import catalogue
from dashboard.answers.question import Question
from dashboard.records.store import newest
from dashboard.records.store.bringing import bring
from tests.records.small import write_folder

PATIENCE = 60.0


def test_new_records_reach_new_visitors_and_open_ones_keep_theirs(either, small, tmp_path):
    bring(either, small, "Ada")
    open_page = Question(catalogue.load(either))
    version = open_page.catalogue.version
    assert catalogue.load(either) is open_page.catalogue
    end = newest.follow(either, catalogue.read_catalogue, every=0.05)
    try:
        new = {"cultivars": [["cultivar", "fruit_type"], ["Corvane", "peach"]]}
        bring(either, write_folder(tmp_path / "new", new, None), "Ada")
        until = time.monotonic() + PATIENCE
        while catalogue.load(either).version == version:
            assert time.monotonic() < until
            time.sleep(0.02)
        assert "Corvane" in catalogue.load(either).cultivars.index
        assert "Corvane" not in open_page.catalogue.cultivars.index
        assert open_page.catalogue.version == version
    finally:
        end()
