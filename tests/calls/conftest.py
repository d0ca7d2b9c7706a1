from __future__ import annotations

import pytest

from dashboard import Asked, Records
from dashboard.answers.catalogue import Catalogue


@pytest.fixture(scope="module")
def records(demo: Catalogue) -> Records:
    return Records(demo)


@pytest.fixture(scope="module")
def few(well_recorded: Catalogue) -> Records:
    """Twelve coined cultivars with what is seldom recorded."""
    return Records(well_recorded)


@pytest.fixture(scope="module")
def ask(records: Records) -> Asked:
    return records.ask("Roadside stand")
