"""Orders planned beside the server: one after the other, with a place in the line, a stop that keeps the best, and an end when the visitor leaves."""

from __future__ import annotations

import threading
import time
from dataclasses import replace

import pytest

from dashboard.answers.ordering import task
from dashboard.answers.question import Question
from dashboard.order import Ordered
from dashboard.page.parts import planning
from dashboard.page.parts.planning import Job, Line, Planned, Progress, Refused, news
from dashboard.page.parts.workshop import Workshop
from dashboard.wording import order_page as words


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(
        demo, market="roadside_stand", shortlist=("Rusvet", "Mulvet", "Quaskel"), opens="06-20", closes="07-10", weekly="500",
    )  # fmt: skip


def heard(job: Job) -> list:
    told = []
    job.tell = lambda one: told.append(one) or True
    return told


def until(holds, seconds=180):
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.01)


@pytest.mark.slow
def test_another_process_plans_as_this_one_would_and_two_wait_for_each_other(asked, monkeypatch):
    (here,) = [one for one in news(asked, lambda: False) if isinstance(one, Planned) and one.last]
    beside = Workshop("orders are planned")  # gives way to nobody: a test has no visitors
    monkeypatch.setattr(planning, "_WORKSHOP", beside)
    beside.open()
    try:
        line, jobs = Line(), [Job(asked, lambda _one: True) for _ in range(2)]
        told = [heard(job) for job in jobs]
        assert [line.take(job) for job in jobs] == [True, True]
        until(lambda: all(isinstance(one[-1], Planned) and one[-1].last for one in told if one) and all(told))
    finally:
        beside.close()
    for one in told:
        assert one[-1].rows.equals(here.rows)
        assert one[-1].answer == here.answer
        assert one[-1].fan == pytest.approx(here.fan)
        assert one[-1].files["tree-order.pdf"].startswith(b"%PDF")
    assert told[1][0].said == words.LEFT.format(1)


def test_a_plan_that_is_stopped_keeps_the_best_so_far(asked, monkeypatch):
    def better(wanted, *_how):
        numbers = task(wanted)
        for bundles in (numbers.useful, numbers.useful // 2, numbers.useful // 3):
            yield Ordered(numbers, bundles, 1.0, 1.0)

    monkeypatch.setattr(planning, "improving", better)
    stops = iter((False, True))
    *_, last = news(asked, lambda: next(stops))
    assert isinstance(last, Planned)
    assert last.last
    numbers = task(asked.order_wanted)
    assert last.rows["trees"].sum() == numbers.trees(numbers.useful // 2).sum()


def test_after_the_last_nothing_more_is_asked_of_the_process(asked, monkeypatch):
    told = [Progress("on the way"), Refused("none keeps them"), RuntimeError("it has gone")]

    class Process:
        def done(self, *_):
            one = told.pop(0)
            if isinstance(one, Exception):
                raise one
            return one

    monkeypatch.setattr(planning, "_WORKSHOP", Process())
    assert list(Job(asked, bool).steps()) == [Progress("on the way"), Refused("none keeps them")]
    assert len(told) == 1


def test_stopped_before_an_order_was_found_is_said(asked, monkeypatch):
    numbers = task(asked.order_wanted)
    monkeypatch.setattr(planning, "improving", lambda *_: iter([Ordered(numbers, None, 0.0, 1.0)]))
    assert list(news(asked, lambda: True)) == [Refused(words.NOTHING_YET)]


def test_the_gap_is_told_as_it_falls(asked, monkeypatch):
    numbers = task(asked.order_wanted)
    cost = float(numbers.cost @ numbers.useful)
    monkeypatch.setattr(
        planning, "improving", lambda *_: iter([Ordered(numbers, numbers.useful, part * cost, 2.0) for part in (0.5, 0.9)])
    )  # fmt: skip
    said = [one.said for one in news(asked, lambda: False) if isinstance(one, Progress)]
    assert [one.split("most ")[1].split(" %")[0] for one in said] == ["50.0", "10.0"]


class Slow:
    """A line whose first job works until it is let go."""

    def __init__(self, monkeypatch):
        self.go, self.begun = threading.Event(), []

        def steps(job):
            self.begun.append(job)
            self.go.wait(20)
            yield Progress("one")
            yield Progress("two")

        monkeypatch.setattr(Job, "steps", steps)


def test_who_waits_is_told_his_place_and_too_many_are_refused(asked, monkeypatch):
    slow, line = Slow(monkeypatch), Line()
    monkeypatch.setattr(planning, "MOST_WAITING", 3)
    jobs = [Job(asked, lambda _one: True) for _ in range(4)]
    told = [heard(job) for job in jobs]
    assert [line.take(job) for job in jobs] == [True, True, True, False]
    slow.go.set()
    until(lambda: Progress("two") in told[2])
    assert told[2][:2] == [Progress(words.LEFT.format(2)), Progress(words.LEFT.format(1))]


def test_for_a_visitor_who_has_left_nothing_is_worked_out(asked, monkeypatch):
    slow, line = Slow(monkeypatch), Line()
    slow.go.set()
    gone, there = Job(asked, lambda _one: False), Job(asked, lambda _one: True)
    told = heard(there)
    assert line.take(gone)
    assert line.take(there)
    until(lambda: Progress("two") in told)
    assert slow.begun == [there]


def test_a_fault_is_one_sentence_and_the_next_is_planned(asked, monkeypatch, caplog):
    monkeypatch.setattr(Job, "steps", lambda _job: 1 / 0)
    line, job = Line(), Job(asked, lambda _one: True)
    told = heard(job)
    assert line.take(job)
    until(lambda: Refused(words.FAILED) in told)
    assert "division by zero" in caplog.text


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"opens": "12-01", "closes": "12-20"}, "No tree on offer has fruit in these weeks"),
        ({"shortlist": ("K15-030",)}, "No nursery offers a cultivar named"),
        ({"acres": "0.01", "spacing": "60x60"}, "The land holds no tree"),
    ],
)
def test_one_sentence_for_what_cannot_be_ordered(asked, changes, said):
    (only,) = news(replace(asked, **changes), lambda: False, 1.0)
    assert isinstance(only, Refused)
    assert said in only.said
    assert only.said.count(". ") == 0
