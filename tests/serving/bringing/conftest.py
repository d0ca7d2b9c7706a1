"""A small trial's pages, and Ann, who has logged in."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from dashboard.serving.bringing.room import Room
from tests.records.small import tables, write_folder
from tests.serving.bringing.visitor import SECRET, Visitor, opened, quick_hash, small_room


@pytest.fixture
def room(tmp_path, monkeypatch) -> Room:
    quick_hash(monkeypatch)
    return small_room(write_folder(tmp_path / "trial", tables()))


@pytest.fixture
def ann(room) -> Iterator[Visitor]:
    with opened(room) as port:
        visitor = Visitor(port)
        assert visitor.log_in(SECRET) == 303
        yield visitor
