"""When one cultivar is picked: to be expected in an early, ordinary and late season, and as it was seen."""

from __future__ import annotations

from functools import partial

import numpy as np
import pandas as pd

from dashboard.answers.catalogue import windows_at
from dashboard.answers.question import Question
from dashboard.handout import timeline
from dashboard.handout.blocks import Block, Picture, Words
from dashboard.handout.timeline import Bar
from dashboard.ripening.model import KINDS
from dashboard.wording import figures as words

NAMES, DATES, STEP = 104.0, 70.0, 10.0
NEWEST = 8  # picks seen that are drawn


def picking(asked: Question) -> tuple[Block, ...]:
    """The expected windows, then the newest picks on record."""
    expected, seen = coming(asked), on_record(asked)
    span = timeline.span_of(
        [day for bar in (*expected, *seen) for day in (bar.first, bar.last, bar.low, bar.high)]
    )
    blocks: list[Block] = []
    where = f"at {words.site_name(asked.catalogue, asked.site)}" if asked.site else "over the sites"
    if expected:
        blocks += [
            Words(f"When to expect it, {where}", bold=True, size=7.4, after=1),
            _drawn(asked, expected, span),
        ]
    if seen:
        left = len(_picks(asked)) - len(seen)
        more = f" (the newest {len(seen)}; {left} earlier ones are not drawn)" if left else ""
        blocks += [
            Words(f"When it was picked{more}", bold=True, size=7.4, after=1),
            _drawn(asked, seen, span),
        ]
    return tuple(blocks) or (Words("No pick of it is on record.", size=7.4),)  # fmt: skip


def _drawn(asked: Question, rows: list[Bar], span: tuple[float, float]) -> Picture:
    return Picture(
        timeline.AXIS + STEP * len(rows) + 6, partial(_draw, tuple(rows), span, asked.catalogue.south)
    )


def _draw(rows, span, south, pen, x, y, width) -> None:
    timeline.bars(pen, rows, x, y, width, STEP, span, south, NAMES, DATES)


def coming(asked: Question) -> list[Bar]:
    """A bar a kind of season; without a ripening model the average of what was seen."""
    kinds = ("ordinary",) if asked.catalogue.ripening.refused else tuple(KINDS)
    made = []
    for kind in kinds:
        row = windows_at(asked.catalogue, asked.site, kind).loc[asked.cultivar].to_dict()
        label = "usually" if len(kinds) == 1 else f"{kind} season"
        if np.isfinite(row["first"]):
            told = words.picked(row, asked.catalogue.south)
            made.append(Bar(label, row["first"], row["last"], row["first_low"], row["last_high"], told))
    return made


def on_record(asked: Question) -> list[Bar]:
    """A bar a season and site, the newest at the bottom."""
    rows = _picks(asked).tail(NEWEST).to_dict("records")
    return [
        Bar(
            f"{int(row['season'])} {words.site_name(asked.catalogue, row['site'])}", row["first"], row["last"],
            told=words.picked(row, asked.catalogue.south),
        )
        for row in rows
    ]  # fmt: skip


def _picks(asked: Question) -> pd.DataFrame:
    picks = asked.catalogue.picks
    own = picks[(picks["cultivar"] == asked.cultivar).to_numpy(dtype=bool)]
    return own.sort_values(["season", "site"], kind="stable")
