"""The page as a whole: its views, its link, records that cannot be read, faults that are told, phones."""

from __future__ import annotations

import panel as pn
import pytest
from bokeh.document import Document

from dashboard.answers import catalogue
from dashboard.answers.dossier import dossier
from dashboard.charts import style
from dashboard.page import app
from dashboard.page.frame.header import Header
from dashboard.page.frame.tab_bar import TabBar, TabPanel
from dashboard.page.parts.elements import Prose, RowTable
from dashboard.places import MARKETS
from dashboard.visit.state import TABS, State
from dashboard.wording.facts import facts
from tests.pressing import press
from tests.records.small import DECLARED, tables, write_folder


@pytest.fixture(scope="module", autouse=True)
def prepared():
    app.prepare()


@pytest.fixture
def folder(tmp_path):
    return write_folder(tmp_path / "records", tables())


def words(page) -> str:
    top = [f"{line.whose} {line.invented}" for line in page.header if isinstance(line, Header)]
    return " ".join([*top, *(str(prose.object) for prose in page.select(Prose))])


def test_every_tab_has_a_name_and_a_place():
    assert tuple(app.TAB_NAMES) == TABS
    assert len(set(app.TAB_NAMES.values())) == len(TABS)


def test_the_shell_names_the_colours_it_uses(folder):
    shell = app.page(folder)
    document = Document()
    shell.server_doc(document)
    dress = document.template.blocks["loader_css"](document.template.new_context())
    drawn = "".join(dress)
    assert style.LEAF in drawn
    assert "var(--" not in drawn


def test_the_page_shows_the_records_it_was_given(folder):
    page = app.page(folder)
    assert page.title == app.TITLE
    assert "Small trial" in words(page)
    (bar,) = page.select(TabBar)
    assert bar.names == list(app.TAB_NAMES.values())


def test_records_without_a_title_are_named_so_and_never_by_their_place(tmp_path):
    untitled = {**DECLARED, "title": "", "invented": False, "region": ""}
    said = words(app.page(write_folder(tmp_path / "secret", tables(), untitled)))
    assert "Records without a title" in said
    assert "secret" not in said


@pytest.mark.parametrize("date", ["2024", "2024-W27"])
def test_records_without_days_of_picking_open_and_make_up_none(tmp_path, date):
    grids = tables()
    for cells in grids["samples"][1:]:
        cells[3] = date
    page = app.page(write_folder(tmp_path / "records", grids))
    assert "Small trial" in words(page)
    known = catalogue.load(tmp_path / "records")
    assert known.windows["first"].notna().any() == (date != "2024")
    told = dict(facts(known, dossier(known, "Alvane"), "us"))
    assert (told.get("Usually picked") == "unknown: no day of picking is on record") == (date == "2024")


def test_the_server_s_folder_is_shown_when_none_is_named(folder, monkeypatch):
    monkeypatch.setenv(app.FOLDER, str(folder))
    assert "Small trial" in words(app.page())


def test_the_demo_is_shown_when_no_folder_is_known_and_says_it_is_invented(monkeypatch, demo):
    monkeypatch.delenv(app.FOLDER, raising=False)
    said = words(app.page())
    assert demo.records_title in said
    assert "invented example" in said


@pytest.mark.parametrize("said", ["roadside_stand", "Roadside stand", str(MARKETS / "roadside_stand.toml")])
def test_a_notebook_s_page_opens_on_the_market_it_names(folder, said):
    assert "qualify for Roadside stand" in words(app.page(folder, market=said)).replace("</b>", "").replace(
        "<b>", ""
    )


def test_a_notebook_s_page_says_which_market_is_not_there(folder):
    with pytest.raises(ValueError, match="did you mean roadside_stand"):
        app.page(folder, market="rodside stand")


def test_records_that_cannot_be_read_are_told_on_the_page_as_text(tmp_path):
    grids = {"cultivars": [["cultivar"], [""]]}
    page = app.page(write_folder(tmp_path / "<img src=x>", grids))
    said = words(page)
    assert "could not be read" in said
    assert "<li>" in said
    assert "<img" not in said
    assert page.select(RowTable) == []


def test_every_visitor_has_choices_of_their_own(folder):
    one, other = app.page(folder), app.page(folder)
    tables_of = [page.select(TabPanel)[0].select(RowTable)[0] for page in (one, other)]
    before = tables_of[1].told
    press(tables_of[0], {"sort": "size"})
    assert tables_of[0].told != before
    assert tables_of[1].told == before


def test_an_unexpected_fault_is_told_and_the_last_answer_stays(catalogue, monkeypatch):
    state = State(catalogue)
    monkeypatch.setattr(pn.config, "exception_handler", None)
    app.report_faults(state)
    asked = state.question
    pn.config.exception_handler(RuntimeError("<b>secret</b>"))
    assert len(state.notices) == 1
    assert "secret" not in state.notices[0]
    assert state.question is asked


def test_a_fault_s_report_does_not_keep_a_visitor_s_choices(catalogue, monkeypatch):
    import gc
    import weakref

    state = State(catalogue)
    monkeypatch.setattr(pn.config, "exception_handler", None)
    app.report_faults(state)
    gone = weakref.ref(state)
    del state
    gc.collect()
    assert gone() is None
    pn.config.exception_handler(RuntimeError("late"))


class Address:
    """A browser's address as the page sees it."""

    def __init__(self, search: str = ""):
        self.written: list[str] = []
        self._search = search

    @property
    def search(self) -> str:
        return self._search

    @search.setter
    def search(self, text: str) -> None:
        self.written.append(text)
        self._search = text


def test_a_choice_is_written_into_the_address_once_and_the_start_is_not(catalogue):
    state, address = State(catalogue), Address()
    app.write_link(address, state)
    assert address.written == []
    state.choose(flesh_colour=("white",))
    app.write_link(address, state)
    app.write_link(address, state)
    assert address.written == [state.link]
    state.start_over()
    app.write_link(address, state)
    assert address.written[-1] == "?v=1"
