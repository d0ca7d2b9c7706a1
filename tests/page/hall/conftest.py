"""A hall as it opens at a link."""

from __future__ import annotations

import pytest

from dashboard.answers.catalogue import Catalogue
from dashboard.page.hall.view import Hall, hall
from dashboard.visit.state import State


def in_hall(catalogue: Catalogue, link: str) -> tuple[State, Hall]:
    state = State(catalogue, link)
    (element,) = hall(state).select(Hall)
    return state, element


@pytest.fixture
def season_shown(demo: Catalogue) -> tuple[State, Hall]:
    """The Season of a slate of one, for the roadside stand."""
    return in_hall(demo, "?v=1&market=roadside_stand&look=hall&tab=season&shortlist=Aldrum")
