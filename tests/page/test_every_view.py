"""Every view is built from every kind of records: plenty, one cultivar, nothing measured, nothing recorded, hostile."""

from __future__ import annotations

import re

import panel as pn
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.page.frame.filters import filters
from dashboard.page.frame.header import header
from dashboard.page.frame.headline import headline
from dashboard.page.frame.running import running_order
from dashboard.page.hall.view import hall
from dashboard.page.parts.elements import Prose
from dashboard.page.tabs.by_class import classes
from dashboard.page.tabs.my_site import my_site
from dashboard.page.tabs.my_slate import my_slate
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.page.tabs.order import order
from dashboard.page.tabs.ranking import ranking
from dashboard.page.tabs.records import records
from dashboard.page.tabs.season import season
from dashboard.page.tabs.side_by_side import beside
from dashboard.page.tabs.tradeoffs import tradeoffs
from dashboard.visit.state import TABS, State
from tests.browser import sets
from tests.page.conftest import Watched, said


def in_the_hall(state: State):
    state.choose(look="hall")
    return hall(state)


VIEWS = {
    "headline": headline, "filters": lambda state: pn.Column(*filters(state)), "tradeoffs": tradeoffs, "ranking": ranking, "season": season, "classes": classes,
    "cultivar": cultivar, "beside": beside, "shortlist": my_slate, "site": my_site, "order": order, "records": records, "header": header, "running": running_order, "hall": in_the_hall,
}  # fmt: skip
SETS = ("demo", "hostile", "one_cultivar", "no_values", "no_rows")


@pytest.fixture(scope="module", params=SETS)
def any_catalogue(request, tmp_path_factory, demo):
    if request.param == "demo":
        return demo
    return catalogues.load(getattr(sets, request.param)(tmp_path_factory.mktemp(request.param) / "records"))


@pytest.mark.alike(16)
@pytest.mark.parametrize("name", VIEWS)
def test_a_view_is_built_and_bears_every_choice(any_catalogue, name):
    state = State(any_catalogue)
    watched = Watched(VIEWS[name](state))
    opened = any_catalogue.cultivars.index[0]
    for tab in TABS:
        state.choose(tab=tab)
        state.choose(market="roadside_stand", units="si")
        state.choose(
            chosen=(opened,), shortlist=(opened,), cultivar=opened, beside=(opened,), other=(opened,)
        )
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
            other=(),
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
