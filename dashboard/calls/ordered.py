"""How many trees of which cultivar, a row a cultivar."""

from __future__ import annotations

import pandas as pd

from dashboard.answers.demand import each_week
from dashboard.answers.ordered import settled
from dashboard.answers.ordering import OrderWanted
from dashboard.answers.question import Question
from dashboard.calls.columns import Found, Told
from dashboard.calls.understood import AskError, as_written
from dashboard.wording.ordering import lines


def ordered(
    asked: Question, each: str, first: str, last: str, acres: float | None, per_acre: float, most: int | None, seconds: float
) -> Found:  # fmt: skip
    """For the buyer of the question, out of its slate or of all; AskError, one sentence, where nothing can be ordered."""
    if asked.profile is None:
        raise AskError('Say who buys, for example load(folder).ask("Roadside stand").order("800 lb", "Jun 10", "Aug 31").')  # fmt: skip
    with as_written():
        found = settled(
            OrderWanted(
                asked.catalogue, asked.profile, each_week(each, first, last, asked.catalogue.south), asked.shortlist, asked.basis,
                asked.season_kind, acres=acres, trees_per_acre=per_acre, most_cultivars=most,
            ),
            seconds,
        )  # fmt: skip
    by = found.rows.groupby("cultivar", sort=True)
    told, index = Told(), pd.Index(list(by.groups), dtype="str")
    told.add("trees", by["trees"].sum().to_list(), "Trees", 0)
    told.add("cost_usd", by["cost"].sum().to_list(), "Cost ($)", 2)
    told.add("nurseries", by["nursery"].agg(lambda rows: ", ".join(sorted(set(rows.astype(str))))).to_list())
    told.add("protected", by["protected"].any().to_list(), "Protected")
    return told.frame(index), [line for _, line in lines(found)], told.headings
