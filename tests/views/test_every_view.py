"""Every view is built from every kind of records: plenty, one cultivar, nothing measured, nothing recorded, hostile."""

from __future__ import annotations

import re

import pytest

from dashboard import catalogue as catalogues
from dashboard.state import TABS, State
from dashboard.views.beside import beside
from dashboard.views.cultivar import cultivar
from dashboard.views.elements import Prose
from dashboard.views.filters import filters
from dashboard.views.hall import hall
from dashboard.views.headline import headline
from dashboard.views.ranking import ranking
from dashboard.views.records import records
from dashboard.views.running import running_order
from dashboard.views.season import season
from dashboard.views.shortlist import shortlist
from dashboard.views.steering import steering
from dashboard.views.tradeoffs import tradeoffs
from tests.browser import sets
from tests.views.conftest import Watched, said


def in_the_hall(state: State):
    state.choose(look="hall")
    return hall(state)


VIEWS = {
    "headline": headline, "filters": filters, "tradeoffs": tradeoffs, "ranking": ranking, "season": season,
    "cultivar": cultivar, "beside": beside, "shortlist": shortlist, "records": records, "steering": steering, "running": running_order, "hall": in_the_hall,
}  # fmt: skip
SETS = ("demo", "hostile", "one_cultivar", "no_values", "no_rows")


@pytest.fixture(scope="module", params=SETS)
def any_catalogue(request, tmp_path_factory, demo):
    if request.param == "demo":
        return demo
    return catalogues.load(getattr(sets, request.param)(tmp_path_factory.mktemp(request.param) / "records"))


@pytest.mark.parametrize("name", VIEWS)
def test_a_view_is_built_and_bears_every_choice(any_catalogue, name):
    state = State(any_catalogue)
    watched = Watched(VIEWS[name](state))
    opened = any_catalogue.cultivars.index[0]
    for tab in TABS:
        state.choose(tab=tab)
        state.choose(market="roadside_stand", units="si")
        state.choose(chosen=(opened,), shortlist=(opened,), cultivar=opened, beside=(opened,))
        state.choose(flesh_colour=("red",), shape_type=("flat",))
        state.choose(
            flesh_colour=(),
            shape_type=(),
            market="",
            units="us",
            chosen=(),
            shortlist=(),
            cultivar="",
            beside=(),
        )
    assert watched.document.roots


def test_hostile_text_is_escaped_in_every_view(tmp_path):
    known = catalogues.load(sets.hostile(tmp_path / "hostile"))
    state = State(known)
    layouts = [view(state) for view in VIEWS.values()]
    state.choose(look="page")  # in the hall the others would rest
    for name in sets.HOSTILE_NAMES:
        for tab in TABS:
            state.choose(
                tab=tab,
                cultivar=name,
                shortlist=(name,),
                chosen=(name,),
                beside=sets.HOSTILE_NAMES[:6],
                market="hostile",
            )
        for layout in layouts:
            words = said(layout)
            assert not re.search(r"<(img|script|svg onload|b onmouseover)", words)


def test_prose_takes_no_text_that_was_not_escaped():
    with pytest.raises(TypeError, match="Markup"):
        Prose().say("<b>bold</b>")
