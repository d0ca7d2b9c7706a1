"""Each tab's pictures to take away: what is empty is not offered, every figure named is on the tab, and a filter sends nothing for them."""

from __future__ import annotations

from xml.etree import ElementTree

import panel as pn
import pytest
from bokeh.document import Document
from bokeh.plotting import figure

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.page.parts.pressable import Fold
from dashboard.page.tabs.by_class import classes
from dashboard.page.tabs.one_cultivar import cultivar
from dashboard.page.tabs.pictures import TABS, offered, picture_saver
from dashboard.page.tabs.records import records
from dashboard.page.tabs.season import season
from dashboard.page.tabs.tradeoffs import tradeoffs
from dashboard.visit.state import State
from tests.browser import sets
from tests.pressing import press

VIEWS = {"fruit": tradeoffs, "season": season, "classes": classes, "cultivar": cultivar, "records": records}


def figures(layout: pn.viewable.Viewable) -> list[str]:
    document = Document()
    document.add_root(layout.get_root(document))
    return [str(one.name) for one in document.select({"type": figure})]


@pytest.mark.parametrize("tab", VIEWS)
def test_every_figure_of_a_tab_can_be_saved_and_every_one_named_is_there(demo, tab):
    state = State(demo, f"?v=1&tab={tab}&cultivar=Aldrum")
    named = {name for picture in offered(state.question, tab) for name in picture.figures}
    assert named
    layout = VIEWS[tab](state)
    for fold in layout.select(Fold) if tab == "records" else ():
        press(fold)
    assert sorted(figures(layout)) == sorted(named)


def test_what_is_empty_is_not_offered(demo):
    nobody = Question(
        demo, flesh_colour=("red",), shape_type=("flat",), fruit_type=("peach",), stone=("free",)
    )
    assert not nobody.passes.any()
    for tab in ("fruit", "season", "cultivar", "beside", "shortlist"):
        assert offered(nobody, tab) == []
    assert offered(Question(demo), "shortlist") == []
    assert [one.key for one in offered(Question(demo, shortlist=("Aldrum",)), "shortlist")] == ["slate"]


@pytest.mark.alike(3)
@pytest.mark.parametrize("make", [sets.no_rows, sets.no_values, sets.one_cultivar])
def test_poor_records_offer_what_they_have_and_no_more(tmp_path, make):
    known = catalogues.load(make(tmp_path / "records"))
    name = str(known.cultivars.index[0])
    asked = Question(known, shortlist=(name,), cultivar=name, beside=(name,))
    keys = {one.key for tab in TABS for one in offered(asked, tab)}
    if make is sets.no_rows:
        assert not keys & {"season", "cover", "calendar", "weeks", "slate", "picking", "variation"}
    for tab in TABS:
        for one in offered(asked, tab):
            assert one.title
            assert one.figures or ElementTree.fromstring(str(one.drawn()[0])) is not None


def test_titles_name_what_is_shown(demo):
    asked = Question(demo, market="roadside_stand", shortlist=("Aldrum", "Zelmor"), cultivar="Aldrum", opens="06-10", closes="08-31", season_kind="ordinary")  # fmt: skip
    slate = offered(asked, "shortlist")[0]
    assert slate.title == "My slate: 2 cultivars, selling Jun 10 to Aug 31"
    assert any("8 ordinary years in 10; gaps: Jun" in line for line in slate.reads)
    assert offered(asked, "cultivar")[1].title == "Aldrum among all cultivars"
    titles = {one.key: one.title for one in offered(asked, "season")}
    assert titles["cover"] == "Cover of my slate"
    assert "an ordinary season" in titles["calendar"]


def test_the_market_s_line_is_explained_only_where_there_is_one(demo):
    without, with_one = (offered(Question(demo, market=key), "fruit")[0] for key in ("", "roadside_stand"))
    assert len(with_one.marks) == len(without.marks) + 1


@pytest.fixture(scope="module")
def hostile(tmp_path_factory):
    return catalogues.load(sets.hostile(tmp_path_factory.mktemp("hostile") / "records"))


def test_a_hostile_name_stays_text_in_what_the_server_draws(hostile):
    asked = Question(hostile, shortlist=sets.HOSTILE_NAMES, beside=sets.HOSTILE_NAMES[:6], market="hostile")
    drawn = [one for tab in ("shortlist", "beside") for one in offered(asked, tab) if one.drawn]
    assert {one.key for one in drawn} >= {"fruit", "picking"}
    for one in drawn:
        tags = {part.tag for part in ElementTree.fromstring(str(one.drawn()[0])).iter()}
        assert tags <= {"svg", "path", "text", "circle", "line", "rect", "pattern"}


def test_a_change_of_the_answer_sends_nothing_for_the_button(demo, monkeypatch):
    state = State(demo)
    saver = picture_saver(state)
    sent: list = []
    monkeypatch.setattr(saver, "_send_msg", sent.append)
    document = Document()
    document.add_root(saver.get_root(document))
    document.on_change(sent.append)
    state.choose(flesh_colour=("white",), market="regional_wholesale", tab="season")
    assert sent == []
    press(saver, {"save": "season", "kind": "svg"})
    (said,) = sent
    assert said["over"][0].startswith("Market: Regional wholesale.")  # as it is asked now
    assert said["file"].startswith("orchard-slate-season-")
