"""The set that fills a selling season, a row a cultivar."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd

from dashboard.answers.planning import easings, plan, with_unoffered
from dashboard.answers.planting import offers_known
from dashboard.answers.question import Question
from dashboard.calls.columns import Found, Told, add_picks
from dashboard.calls.reading import CHANCE
from dashboard.calls.understood import AskError
from dashboard.handout.plan import lines
from dashboard.wording.planning import reason_told


def planned(
    asked: Question, most: int | None, keep: tuple[str, ...], never: tuple[str, ...], offered: bool | None
) -> Found:
    """For the buyers, days and filters of the question; AskError, one sentence, where nothing can be planned."""
    wanted = asked.wanted
    sold = offers_known(asked.catalogue) if offered is None else offered
    pool = wanted.pool._replace(kept=keep, barred=never, offered=sold)
    found = plan(replace(wanted, pool=pool, most=most))
    if found.refused:
        raise AskError(found.refused)
    told, picks = Told(), found.picks
    index = pd.Index(found.names, dtype="str")
    told.add("class", [pick.merits["class"] for pick in picks], "Class")
    ends = [pd.Series([pick.window[at] for pick in picks], index=index, dtype=float) for at in (0, 1)]
    add_picks(told, asked.catalogue, *ends)
    told.add("why", [reason_told(pick, found.asked) for pick in picks], "Why it is in")
    told.add("adds_days", [sum(pick.adds) for pick in picks], "Adds, days a season", 1)
    for at, market in enumerate(found.asked.markets):
        if market is not None:
            end = f"_{at + 1}" if len(found.asked.markets) > 1 else ""
            told.add(
                f"score{end}",
                [100 * float(pick.merits[f"score {at}"]) for pick in picks],
                f"Score (0 to 100), {market.name}",
                0,
            )
            chances = [100 * float(pick.merits[f"clears {at}"]) for pick in picks]
            told.add(f"chance_pct{end}", chances, f"Chance it qualifies (%), {market.name}", CHANCE)
            told.add(
                f"verdict{end}", [str(pick.merits[f"verdict {at}"]) for pick in picks], f"For {market.name}"
            )
    told.add("seasons", [int(pick.merits["seasons"]) for pick in picks])
    told.add("nurseries", [", ".join(pick.merits["nurseries"]) for pick in picks])
    return (
        told.frame(index),
        [line for _, line in lines(found, easings(found.asked), None, with_unoffered(found.asked))],
        told.headings,
    )
