"""Files to take home: every one the page offers is made, a word is said meanwhile, and nothing of it stays in the page."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest

from dashboard.handout import booklet, tables
from dashboard.page.parts import downloads, live, making
from dashboard.page.parts.downloads import Downloads
from dashboard.page.sheets import ALL_THAT_PASS, LISTS
from dashboard.page.tabs.by_class import classes
from dashboard.visit.state import State
from tests.handout.reading import pages
from tests.pressing import press

TAKEN_HOME = {**LISTS, **ALL_THAT_PASS}


class Visit:
    """Presses, what was sent to the browser, and what was said meanwhile."""

    def __init__(self, element: Downloads, monkeypatch):
        self.element, self.sent, self.said = element, [], []
        monkeypatch.setattr(element, "_send_msg", self.sent.append)
        element.param.watch(lambda event: self.said.append(event.new), "told")

    def press(self, label: str) -> None:
        press(self.element, {"make": self.element.labels.index(label)})


@pytest.fixture
def visit(catalogue, monkeypatch) -> Visit:
    state = State(catalogue, "?v=1&market=packer&shortlist=Aldermere,Candover")
    element = Downloads(state, TAKEN_HOME)
    return Visit(element, monkeypatch)


@pytest.mark.alike(3)
@pytest.mark.parametrize("label", TAKEN_HOME)
def test_each_file_arrives_under_its_name(visit, label):
    visit.press(label)
    (sent,) = visit.sent
    assert sent["file"] == TAKEN_HOME[label]
    assert sent["content"].startswith(
        {"pdf": b"%PDF", "lsx": b"PK", "csv": b"\xef\xbb\xbf", "tml": b"<!doctype html>"}[sent["file"][-3:]]
    )
    assert visit.said == [f"{label} is being made …", ""]
    assert not visit.element.busy


def test_they_hold_what_the_page_shows(visit):
    asked = visit.element._state.question
    for label in ("List as .csv", "All that pass, as .csv", "Handout as .pdf"):
        visit.press(label)
    listed, passing, paper = (one["content"] for one in visit.sent)
    assert listed == tables.csv(asked, "shortlist")
    assert passing == tables.csv(asked, "ranking")
    assert len(pages(paper)) == len(pages(booklet.pdf(asked))) == 6  # the plan comes first


def test_the_weeks_are_taken_home_too(catalogue, monkeypatch):
    state = State(catalogue, "?v=1&tab=classes")
    (element,) = classes(state).select(Downloads)
    visit = Visit(element, monkeypatch)
    visit.press("These weeks as .csv")
    assert visit.sent == [{"file": "orchard-slate-weeks.csv", "content": tables.weeks_csv(state.question)}]


def test_what_cannot_be_made_is_one_sentence_until_the_next_press(visit, monkeypatch):
    monkeypatch.setattr(making, "MOST", {**making.MOST, "pdf": 1})
    visit.press("Handout as .pdf")
    assert visit.element.told == "2 cultivars are on my slate, and this file holds at most 1; choose fewer."
    assert not visit.element.busy
    visit.press("Handout as .xlsx")
    assert visit.element.told == ""
    assert [one["file"] for one in visit.sent] == ["orchard-slate-handout.xlsx"]


def test_where_too_many_wait_it_is_said(visit, monkeypatch):
    monkeypatch.setattr(making, "_PLACES", making.threading.BoundedSemaphore(1))
    making.ordered(visit.element._state.question, "orchard-slate-handout.pdf")
    visit.press("List as .csv")
    assert visit.element.told == making.CROWDED
    assert visit.sent == []


def test_a_visitor_has_one_file_made_at_a_time(visit, monkeypatch):
    kept = []
    monkeypatch.setattr(live, "aside", lambda work, then, hands: kept.append((work, then, hands)))
    visit.press("Handout as .pdf")
    visit.press("Handout as .xlsx")
    ((work, then, hands),) = kept
    assert hands is making.QUEUE
    assert isinstance(hands, ThreadPoolExecutor)
    assert visit.element.busy
    then(work())
    assert [one["file"] for one in visit.sent] == ["orchard-slate-handout.pdf"]


@pytest.mark.parametrize(
    "message", [{}, {"make": 99}, {"make": -1}, {"make": "0"}, {"make": None}, {"make": [0]}]
)
def test_a_message_that_means_nothing_makes_nothing(visit, message):
    press(visit.element, message)
    assert visit.sent == []
    assert visit.said == []


def test_a_file_that_was_stopped_does_not_come_and_the_next_one_does(visit, monkeypatch):
    kept = []
    monkeypatch.setattr(live, "aside", lambda work, then, hands: kept.append((work, then)))
    visit.press("Handout as .pdf")
    press(visit.element, {"stop": True})
    assert (visit.element.busy, visit.element.told) == (False, downloads.STOPPED)
    visit.press("List as .csv")  # the hand is still full
    assert visit.element.told == downloads.ENDING
    work, then = kept.pop()
    then(work())
    assert visit.sent == []
    visit.press("List as .csv")
    work, then = kept.pop()
    then(work())
    assert [one["file"] for one in visit.sent] == ["orchard-slate-shortlist.csv"]
