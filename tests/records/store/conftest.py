"""A new store for each test, on each database, and records to bring in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from dashboard.records.store.opening import Place
from tests.records.small import tables, write_folder
from tests.records.store.cluster import Cluster


@pytest.fixture(scope="session")
def cluster() -> Iterator[Cluster]:
    with Cluster() as running:
        yield running


@pytest.fixture(params=["sqlite", "postgresql"])
def either(request, tmp_path) -> Place:
    """A store that is not made yet, on one database and on the other."""
    return (
        request.getfixturevalue("cluster").new()
        if request.param == "postgresql"
        else tmp_path / "either.store"
    )


@pytest.fixture
def store(tmp_path) -> Path:
    """A file that is not made yet: for what no database decides."""
    return tmp_path / "trial.store"


@pytest.fixture
def small(tmp_path) -> Path:
    return write_folder(tmp_path / "small", tables())
