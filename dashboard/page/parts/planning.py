"""Orders of trees planned beside the server: one after the other, in a process of its own where one can be started.

A plan is searched for in steps; between two of them whoever asked is told how far it is, and may have it stopped or be gone.
"""

from __future__ import annotations

import itertools
import logging
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from dashboard.answers.order_helped import reached
from dashboard.answers.ordered import AT_RISK, Order, improving
from dashboard.answers.question import Question
from dashboard.handout import order as paper
from dashboard.order import GAP
from dashboard.page.parts.workshop import Sent, Workshop
from dashboard.ripening import day_label, written_for
from dashboard.terms.units import KG_PER_POUND
from dashboard.wording import order_page as words
from dashboard.wording import ordering
from dashboard.wording.order_changes import changed_told

SECONDS = 30.0  # of a search
LONGEST = 4.0  # seconds of one step of it: a stop is heard after
MOST_WAITING = 20
log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Progress:
    """A line on how far it is."""

    said: str


@dataclass(frozen=True)
class Refused:
    """Why there is no plan, one sentence."""

    said: str


@dataclass(frozen=True, eq=False)
class Planned:
    """A plan as the page shows it; ``last`` where no better one follows. Weights in pounds: ``wanted`` (weeks,) and ``fan`` (5, weeks), of two
    buyers a week of each and of both: ``buyers`` (weeks,)."""

    missing: list[str]
    helps: list[str]
    answer: str
    risk: str
    more: list[tuple[str, str]]
    changed: list[tuple[str, str]]
    rows: pd.DataFrame
    weeks: pd.DataFrame
    labels: list[str]
    buyers: list[str]
    cautions: list[str]
    wanted: np.ndarray
    fan: np.ndarray
    short: list[bool]
    met: np.ndarray
    files: dict[str, bytes] = field(default_factory=dict)
    last: bool = False


News = Progress | Refused | Planned


def _ends(one: News | str) -> bool:
    """Whether nothing follows: what is told then stands, whatever becomes of the process that told it."""
    return isinstance(one, str | Refused) or (isinstance(one, Planned) and one.last)


def planned(order: Order, last: bool) -> Planned:
    found, rows = reached(order), order.weeks
    asked = (rows["kg"] > 0).to_numpy()
    files = {"tree-order.xlsx": paper.xlsx(order), "tree-order.pdf": paper.pdf(order), "tree-order.csv": paper.csv(order)} if last else {}  # fmt: skip
    south = order.wanted.catalogue.south
    return Planned(
        words.missing_told(order, found), words.helps_told(order, found), ordering.answer_told(order), " ".join([words.risk_told(order), *words.surplus_told(order)]),
        words.whole_told(order) if last else [], changed_told(order) if last else [], order.rows, paper.weeks(order), [day_label(day, south) for day in rows["first"][asked]], list(rows["buyer"][asked]), list(ordering.cautioned(order.wanted)),
        rows["kg"].to_numpy()[asked] / KG_PER_POUND, order.fan[:, asked] / KG_PER_POUND, list(rows["fully"][asked] < AT_RISK),
        order.years["met"].to_numpy(), files, last,
    )  # fmt: skip


def news(asked: Question, stopped: Callable[[], bool], seconds: float = SECONDS) -> Iterator[News]:
    """How the search goes: the first order as soon as it is found, the last with its files; one sentence where there is none."""
    try:
        wanted, shown = asked.order_wanted, False
        for found in improving(wanted, seconds, GAP, LONGEST):
            if isinstance(found, Order):
                yield planned(found, True)
                return
            if stopped():
                yield (
                    Refused(words.NOTHING_YET)
                    if found.bundles is None
                    else planned(Order(wanted, found, hurried=True), True)
                )
                return
            if found.bundles is not None and not shown and found.gap > GAP:
                yield planned(Order(wanted, found), False)
                shown = True
            yield Progress(words.progress_told(found))
    except ValueError as fault:
        yield Refused(str(fault))


@dataclass(eq=False)
class Job:
    """One visitor's plan, waited for or worked on. ``tell(news)`` says whether anybody still listens."""

    asked: Question
    tell: Callable[[News], bool]
    languages: str = ""
    stopped: bool = False
    number: int = field(default_factory=itertools.count().__next__)

    def steps(self) -> Iterator[News]:
        sent = Sent.of(self.asked)
        while sent is not None:
            one = _WORKSHOP.done(_step, self.number, sent, self.languages, self.stopped)
            if one is None:
                break
            if isinstance(one, str):  # the end
                return
            yield one
            if _ends(one):
                return
        with written_for(self.languages):  # no process can do it
            yield from news(self.asked, lambda: self.stopped)


class Line:
    """Who waits for a plan, first come first served."""

    def __init__(self) -> None:
        self._jobs: list[Job] = []
        self._lock = threading.Lock()
        self._hands = ThreadPoolExecutor(max_workers=1, thread_name_prefix="planning")

    def take(self, job: Job) -> bool:
        """Whether there was room for it."""
        with self._lock:
            if len(self._jobs) >= MOST_WAITING:
                return False
            self._jobs.append(job)
            before = len(self._jobs) - 1
        if before:
            job.tell(Progress(words.LEFT.format(before)))
        self._hands.submit(self._work, job)
        return True

    def _work(self, job: Job) -> None:
        try:
            if job.tell(Progress(words.AT_WORK)):
                for one in job.steps():
                    if not job.tell(one):
                        break
        except Exception:
            log.exception("an order could not be planned")
            job.tell(Refused(words.FAILED))
        with self._lock:
            self._jobs.remove(job)
            waiting = list(self._jobs)
        for before, other in enumerate(waiting):
            other.tell(Progress(words.LEFT.format(before) if before else words.AT_WORK))


_END = "end"
_under_way: dict[int, tuple[Iterator[News], list[bool]]] = {}  # in the process: the plan that is worked on


def _step(number: int, sent: Sent, languages: str, stopped: bool) -> News | str | None:
    """In the process: what comes next of a plan, ``_END`` after the last; None where its records are not those of the page."""
    with written_for(languages):
        if number not in _under_way:
            _under_way.clear()  # one at a time: what nobody asks on is let go
            asked = sent.question()
            if asked is None:
                return None
            stop = [False]
            _under_way[number] = news(asked, lambda: stop[0]), stop
        steps, stop = _under_way[number]
        stop[0] = stopped
        told = next(steps, _END)
        if _ends(told):
            _under_way.clear()
        return told


_WORKSHOP = Workshop("orders are planned", nice=5)
open_workshop = _WORKSHOP.open
close_workshop = _WORKSHOP.close
LINE = Line()
