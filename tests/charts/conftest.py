"""Pictures as Bokeh models, and the small tables that every picture has to bear."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.page.app import prepare

BARE = ("every row", "one row", "no rows", "nothing known")


@pytest.fixture(scope="session", autouse=True)
def prepared():
    prepare()


def some_of(frame, which: str):
    """A table in one of the shapes of ``BARE``; index kept."""
    if which == "one row":
        return frame.iloc[:1]
    if which == "no rows":
        return frame.iloc[:0]
    if which == "nothing known":
        numbers = frame.select_dtypes("number").columns
        return frame.assign(**dict.fromkeys(numbers, np.nan))
    return frame


@pytest.fixture(params=BARE)
def which(request) -> str:
    return request.param
