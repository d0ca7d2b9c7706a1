"""Which of the cases of a test are for each day; the others are in the long run."""

from __future__ import annotations

from collections.abc import Iterable

import pytest


def by_test(items: Iterable[pytest.Item]) -> list[list[pytest.Item]]:
    """The cases of each test."""
    found: dict[str, list[pytest.Item]] = {}
    for item in items:
        found.setdefault(item.nodeid.partition("[")[0], []).append(item)
    return list(found.values())
