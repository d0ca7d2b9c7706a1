"""A plan as text, comma-separated, as a workbook and on paper."""

from __future__ import annotations

import io
from collections.abc import Sequence

import pandas as pd
import xlsxwriter

from dashboard.answers.planning import Easing, Plan
from dashboard.answers.question import Question
from dashboard.handout import booklet
from dashboard.handout.plan_page import day_rows
from dashboard.handout.tables import CAUTIONS, comma_separated, write_lines, write_rows
from dashboard.records.plain_text import AS_TEXT
from dashboard.ripening import day_label
from dashboard.ripening.days import day_key
from dashboard.ripening.fewest import Fewest
from dashboard.wording import planning as words
from dashboard.wording.gaps import usual_told
from dashboard.wording.lists import unoffered_told

PRINTED = ("Asked", "Whole seasons", "Days", "To buy")  # by the first page itself


def text(
    plan: Plan, easings: Sequence[Easing] = (), bound: Fewest | None = None, other: Plan | None = None
) -> str:
    """The answer first, then a cultivar a line in order of picking, with its reason."""
    told = [line for _, line in lines(plan, easings, bound, other)]
    south = plan.asked.catalogue.south
    wide = max((len(name) for name in plan.names), default=0)
    for pick in plan.picks:
        when = " – ".join(day_label(day, south) for day in pick.window)
        told.append(f"  {pick.name:{wide}}  {when:15}  {words.reason_told(pick, plan.asked)}")
        told.append(f"  {'':{wide}}  {'':15}  {words.merits_told(pick)}")
    return "\n".join([*told, "", *CAUTIONS]) + "\n"


def lines(
    plan: Plan, easings: Sequence[Easing] = (), bound: Fewest | None = None, other: Plan | None = None
) -> list[tuple[str, str]]:
    """What is said of the whole: the answer, what was asked, what was left out (``other``: the proposal with it), what is missing and what would help."""
    told = [
        ("Answer", words.answer_told(plan)),
        *(("Whole seasons", line) for line in words.seasons_told(plan)),
    ]
    told.append(("Asked", f"{words.asked_told(plan.asked)}."))
    told += [("Days", usual) for usual in [usual_told(plan.asked.catalogue.ripening)] if usual]
    told += [("No chances", line) for line in words.chances_told(plan)]
    told += [("To buy", line) for line in unoffered_told(plan.asked.catalogue, plan.names, len(plan.picks))]
    told += [("Left out", line) for line in words.left_out_told(plan, other)]
    told += [("Missing", line) for line in words.missing_told(plan)]
    told += [("Would help", words.easing_told(one)) for one in easings]
    if bound is not None and plan.asked.most is None:
        told.append(("Fewest", words.bound_told(bound, len(plan.picks), plan.asked.pool.offered)))
    return told


def table(plan: Plan) -> pd.DataFrame:
    """One row a cultivar, in order of picking, with what was asked beside it."""
    asked, south = plan.asked, plan.asked.catalogue.south
    rows = []
    for pick in plan.picks:
        merits = pick.merits
        row: dict[str, object] = {
            "Cultivar": pick.name,
            "Class": merits["class"],
            "Picked from": day_label(pick.window[0], south),
            "Picked to": day_label(pick.window[1], south),
            "Why": words.reason_told(pick, asked),
            "Adds, days a season": round(sum(pick.adds), 1),
        }
        for at, market in enumerate(asked.markets):
            called = f", {words.market_called(market)}" if len(asked.markets) > 1 else ""
            row[f"Score (0 to 100){called}"] = round(100 * merits[f"score {at}"], 1)
            row[f"Chance that it qualifies, %{called}"] = round(100 * merits[f"clears {at}"], 1)
            row[f"Verdict{called}"] = merits[f"verdict {at}"]
        row |= {
            "Seasons": merits["seasons"],
            "Bacterial spot (0 none to 5)": merits["bacterial_spot"],
            "Winter chill needed (hours)": merits["chill_requirement_h"],
            "Winter chill needed (portions)": merits["chill_requirement_cp"],
            "Nurseries": ", ".join(merits["nurseries"]) or "none on record",
            "Asked": words.asked_told(asked),
        }
        rows.append(row)
    return pd.DataFrame(rows)


def csv(plan: Plan) -> bytes:
    """UTF-8 with a mark at the start, so that spreadsheets read the names right."""
    return comma_separated(table(plan)).encode("utf-8-sig")


def xlsx(
    plan: Plan, easings: Sequence[Easing] = (), bound: Fewest | None = None, other: Plan | None = None
) -> bytes:
    """Three sheets: the cultivars, the selling days, and what is said of the whole."""
    out, asked = io.BytesIO(), question(plan)
    with xlsxwriter.Workbook(out, AS_TEXT) as book:
        write_rows(book, "plan", table(plan))
        if strip := asked.strip:
            write_rows(book, "selling days", day_rows(asked, strip))
        write_lines(book, "answer", lines(plan, easings, bound, other))
    return out.getvalue()


def pdf(
    plan: Plan, easings: Sequence[Easing] = (), bound: Fewest | None = None, other: Plan | None = None
) -> bytes:
    """The handout of the proposed slate: the plan on its first page, with what is said of the whole."""
    return booklet.pdf(
        question(plan), answered=[one for one in lines(plan, easings, bound, other) if one[0] not in PRINTED]
    )


def question(plan: Plan) -> Question:
    """What the page asks with this proposal on its slate. A market is known by its name, which no two of a catalogue share."""
    asked = plan.asked
    south, keys = asked.catalogue.south, {market.name: key for key, market in asked.catalogue.markets.items()}
    named = [keys[market.name] for market in asked.markets if market is not None]
    market, second = (*named, "", "")[:2]
    return Question(
        asked.catalogue, market=market, second=second, shortlist=plan.names, site=asked.basis.site, season_kind=asked.season_kind,
        least=asked.least, certainty=asked.certainty, opens=day_key(asked.first, south), closes=day_key(asked.last, south),
    )  # fmt: skip
