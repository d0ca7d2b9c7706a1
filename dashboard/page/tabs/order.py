"""How many trees: what is asked, then how many of which from whom; before that, what the list cannot fill."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
from markupsafe import Markup

from dashboard.charts import supply
from dashboard.page.parts import live, planning
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.downloads import Downloads
from dashboard.page.parts.elements import Prose, RowTable, paragraphs
from dashboard.page.parts.order_asking import Asking
from dashboard.page.parts.planning import Job, Planned, Progress, Refused
from dashboard.page.parts.pressable import Fold
from dashboard.page.parts.ticking import press
from dashboard.visit.state import State
from dashboard.wording import order_page as words
from dashboard.wording.cautions import PROTECTED
from dashboard.wording.order_figures import dollars
from dashboard.wording.ordering import buyers_called

FILES = {
    "Order sheet as .pdf": "tree-order.pdf",
    "Order sheet as .xlsx": "tree-order.xlsx",
    "Order sheet as .csv": "tree-order.csv",
}
COLUMNS = [
    {"key": "name", "label": "Cultivar", "kind": "name"}, {"key": "trees", "label": "Trees", "kind": "number"}, {"key": "nursery", "label": "Nursery", "kind": "words"},
    {"key": "bundles", "label": "Bundles", "kind": "words"}, {"key": "cost", "label": "Cost", "kind": "number"}, {"key": "remark", "label": "", "kind": "reason"},
]  # fmt: skip
WEEKS = ("Week", "Wanted (lb)", "There on average, %", "In bad years (the worst fifth), %", "Seasons met in full, %")  # fmt: skip


def order(state: State) -> Column:
    return _Order(state).whole


class _Order:
    """One visitor's order: the plan on the screen, and the one that is looked for."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.job: Job | None = None
        self.shown: Planned | None = None
        self.of: object = None  # what was asked for what stands on the screen
        self.asking = Asking(state)
        self.head, self.said, self.answer, self.picture, self.more, self.years = (Prose() for _ in range(6))
        self.changed, self.cautions = Prose(), Prose()
        self.table, self.weeks = (
            RowTable(lambda what, value: press(state, what, value)),
            RowTable(lambda *_: None),
        )
        self.plan = live.button("Plan it", self.begin, variant="contained")
        self.stop = live.button("Stop, keep the best so far", self.end, variant="outlined", visible=False)
        self.build = live.button("Build a slate", state.fill, variant="contained", visible=False)
        self.files = Downloads(
            state, FILES, lambda file: self.shown.files.get(file, b"") if self.shown else b""
        )
        self.result = Column(
            self.answer, self.picture, self.table, self.files,
            Fold("Year by year as the trees grow", self.years), Fold("Week by week", self.weeks), Fold("What would change it", self.changed), Fold("How sure this is", self.more),
            self.cautions, visible=False, sizing_mode="stretch_width",
        )  # fmt: skip
        self.whole = Column(
            self.head, self.asking.element, Wrapped(self.plan, self.stop, self.build), self.said, self.result, sizing_mode="stretch_width",
        )  # fmt: skip
        live.follow(state, self.show, "order_wanted", tab="order")
        if (
            state.weekly or state.weeks or state.second_weekly or state.second_weeks
        ) and state.shortlist:  # a link opens the order itself
            self.begin()

    @property
    def ready(self) -> bool:
        return bool(self.state.shortlist) and any(self.state.question.order_wanted.kg)

    def show(self, wanted: Any) -> None:
        empty = not self.state.shortlist
        refused = wanted.catalogue.ripening.refused
        lead = refused if refused else words.BUILD_FIRST if empty else ""
        self.head.say(
            Markup("<h2>{} for {}</h2>").format(words.NAME, buyers_called(wanted))
            + paragraphs([lead] if lead else [])
        )
        self.asking.tell()
        self.build.visible, self.plan.visible = empty, not empty
        self.plan.disabled = self.job is not None
        if self.of is not None and self.of is not wanted:
            self.end()
            self.result.visible = False
            self.said.say(paragraphs([words.CHANGED] if self.ready else []))
            self.shown = self.of = None

    def begin(self) -> None:
        if self.job is not None:
            return
        if not self.ready:
            self.said.say(paragraphs([words.ASK]))
            return
        asked = self.state.question
        job = Job(asked, lambda _news: False, live.languages())
        job.tell = live.teller(lambda news: self.hear(job, news))
        self.job, self.of = job, asked.order_wanted
        self.stop.visible, self.plan.disabled = live.served(), True
        if not live.served():  # a notebook answers one person
            for news in job.steps():
                job.tell(news)
        elif not planning.LINE.take(job):
            self.hear(job, Refused(words.CROWDED))

    def end(self) -> None:
        """Stop what is looked for; what was found so far comes once the step that is under way has ended."""
        if self.job is not None:
            self.job.stopped = True
            self.said.say(paragraphs([words.STOPPING]))
            self.stop.visible = False

    def hear(self, job: Job, news: Progress | Refused | Planned) -> None:
        if job is not self.job:
            return
        if isinstance(news, Planned) and self.of is self.state.question.order_wanted:
            self.draw(news)
        if isinstance(news, Progress):
            if not job.stopped:
                self.said.say(paragraphs([news.said]))
            return
        if isinstance(news, Refused) or news.last:
            self.job = None
            self.stop.visible, self.plan.disabled = False, False
            changed = self.of is not self.state.question.order_wanted
            said = [words.CHANGED] if changed else [news.said] if isinstance(news, Refused) else []
            self.said.say(paragraphs(said if self.ready else []))

    def draw(self, made: Planned) -> None:
        self.shown = made
        lead, *lacking = made.missing or [""]
        said = (
            Markup("<p><b>{}</b> {}</p>").format(lead, " ".join(lacking)) + paragraphs([" ".join(made.helps)])
            if lead
            else Markup("")
        )
        self.answer.say(said + Markup("<h3>{}</h3>").format(made.answer))
        self.picture.say(paragraphs([made.risk]) + _drawn(made) + paragraphs([words.READ], "quiet small"))
        self.cautions.say(paragraphs([" ".join(made.cautions)], "quiet small"))
        rows = made.rows.to_dict("records")
        self.table.tell(
            {"title": "Trees to order", "columns": COLUMNS, "rows": [_row(row) for row in rows], "empty": ""}
        )
        self.years.say(supply.years(made.met) + paragraphs([words.YEARS_READ], "quiet small"))
        weeks = made.weeks[made.weeks["Wanted (lb)"] > 0]
        self.weeks.tell({
            "columns": [{"key": name, "label": name, "kind": "name" if not place else "number"} for place, name in enumerate(WEEKS)],
            "rows": [{"id": str(place), "cells": [row["Week"], *(f"{math.floor(row[name] + 1e-9):,}" for name in WEEKS[1:])]} for place, row in weeks.iterrows()],
            "empty": "",
        })  # fmt: skip
        for prose, lines in ((self.more, made.more), (self.changed, made.changed)):
            prose.say(Markup("").join(Markup("<p><b>{}.</b> {}</p>").format(*line) for line in lines))
        self.files.visible = made.last
        self.result.visible = True


def _drawn(made: Planned) -> Markup:
    """The picture of the weeks, one for each of two buyers and one for both."""
    told, every = Markup(""), np.array(made.buyers)
    for buyer in dict.fromkeys(made.buyers):
        at = np.flatnonzero(every == buyer)
        if len(at) < len(every):
            told += Markup("<h4>{}</h4>").format(words.suits(buyer))
        told += supply.weeks([made.labels[one] for one in at], made.wanted[at], made.fan[:, at], [made.short[one] for one in at], "pounds")  # fmt: skip
    return told


def _row(row: Mapping[Any, Any]) -> dict[str, Any]:
    remark = PROTECTED if row["protected"] else ""
    bundles = f"{row['bundles']} of {row['bundle']} at ${row['price_per_tree']:,.2f}"
    cells = [row["cultivar"], f"{row['trees']:,}", str(row["nursery"]), bundles, dollars(row["cost"]), remark]
    return {"id": f"{row['cultivar']} {row['nursery']}", "name": row["cultivar"], "cells": cells}
