"""The page of the season: when each cultivar of the shortlist is picked, how well they cover it, and the gaps in words."""

from __future__ import annotations

from functools import partial

import pandas as pd

from dashboard.answers.catalogue import windows_at
from dashboard.answers.question import Question
from dashboard.handout import timeline
from dashboard.handout.blocks import Block, Picture, Words
from dashboard.handout.layout import Section
from dashboard.handout.timeline import Bar
from dashboard.wording import figures as words
from dashboard.wording.cautions import MOVES
from dashboard.wording.gaps import cover_told, gap_told
from dashboard.wording.legend import AROUND, BAR
from dashboard.wording.lists import droppable_told

NAMES, DATES = 112.0, 82.0  # points beside the bars
STEP, TALL, AT_ONCE = 11.0, 96.0, 54  # a row; the picture of cover; rows of one picture
CLOSERS = 3  # told of a gap
RAW = (
    "A bar runs from the average first to the average last day of picking{}. How sure that is cannot be told."
)
SURE = f"{BAR}{{}}. {AROUND.capitalize()}"
MARKET = ": black where the cultivar qualifies for the market or may, white where it misses"


def season(asked: Question, keys: dict[str, str]) -> Section:
    where = words.site_name(asked.catalogue, asked.site) if asked.site else "over the sites of the records"
    rows = windows_here(asked)
    span = _span(asked, rows)
    drawn = _bars(asked, rows, keys)
    dated = words.DATED_WITH_COVER[asked.season_kind]
    blocks: list[Block] = [
        Words("Season", size=15, bold=True, heading=True, after=1),
        Words(f"{dated[0].upper()}{dated[1:]}, {where}", size=9, quiet=True, after=5),
    ]  # fmt: skip
    for start in range(0, len(drawn), AT_ONCE):
        part = drawn[start : start + AT_ONCE]
        blocks.append(
            Picture(timeline.AXIS + STEP * len(part) + 6, partial(_draw_bars, part, span, asked.catalogue.south))
        )  # fmt: skip
    blocks.append(
        Words(
            (RAW if asked.catalogue.ripening.refused else SURE).format(MARKET if asked.profile else ""),
            size=7.2,
            quiet=True,
            after=6,
        )
    )
    if asked.cover is not None:
        blocks.append(Picture(TALL + 8, partial(_draw_cover, asked, span)))
    blocks += [Words(line, size=8, after=3) for line in gaps_told(asked)]
    blocks.append(Words(MOVES, size=7.2, quiet=True))
    return Section("season", "Season", tuple(blocks), whole=True)


def windows_here(asked: Question) -> pd.DataFrame:
    """The shortlist by ripening, at the site and in the kind of season asked for; last those never picked."""
    every = windows_at(asked.catalogue, asked.site, asked.season_kind)
    return every.loc[list(asked.shortlisted.index)].sort_values("middle", kind="stable", na_position="last")


def _span(asked: Question, rows: pd.DataFrame) -> tuple[float, float]:
    ends = [float(day) for name in ("first_low", "last_high", "first", "last") for day in rows[name]]
    return timeline.span_of([*ends, *(asked.cover.span if asked.cover is not None else ())])


def _bars(asked: Question, rows: pd.DataFrame, keys: dict[str, str]) -> list[Bar]:
    taken, checks = asked.fit["taken"], asked.catalogue.checks
    return [
        Bar(
            f"{name} (check)" if name in checks else str(name), row["first"], row["last"], row["first_low"], row["last_high"],
            words.picked(row, asked.catalogue.south), bool(taken[name]), keys[str(name)],
        )
        for name, row in zip(rows.index, rows.to_dict("records"), strict=True)
    ]  # fmt: skip


def _draw_bars(rows, span, south, pen, x, y, width) -> None:
    timeline.bars(pen, rows, x, y, width, STEP, span, south, NAMES, DATES)


def _draw_cover(asked: Question, span, pen, x, y, width) -> None:
    assert asked.cover is not None
    timeline.cover(pen, asked.cover, x, y, width, TALL, span, asked.catalogue.south, NAMES, DATES)


def gaps_told(asked: Question) -> list[str]:
    """Whose cover is told, each gap and what would close it, what is crowded and whose loss would hurt most."""
    south = asked.catalogue.south
    each = [f"Gap {gap_told(gap, south)}. {_closed_by(closers)}" for gap, closers in asked.closers]
    return [*cover_told(asked, "my slate", "hatched", each), *droppable_told(asked)]


def _closed_by(closers: pd.DataFrame) -> str:
    if closers.empty:
        return "None that passes the filters and qualifies, or may, would close it."
    told = [
        f"{words.called(name)} (closes {words.counted(int(row['closes']), 'day')}, adds {row['adds']:.1f} a year)"
        for name, row in closers.head(CLOSERS).iterrows()
    ]
    return f"Not on the list, and would help most: {', '.join(told)}."
