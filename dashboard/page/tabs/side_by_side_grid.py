"""Cultivars side by side as a grid: traits down, cultivars across, a dot with its interval on one axis a row, what is surely better shaded."""

from __future__ import annotations

from typing import Any

import numpy as np
from markupsafe import Markup

from dashboard.answers.among import way
from dashboard.answers.question import Question
from dashboard.answers.side_by_side import SideBySide
from dashboard.charts import fruit as drawn
from dashboard.charts.listing import over_gaps
from dashboard.charts.small import beside, dot, part, score_bar
from dashboard.page.parts.pressable import opening, star
from dashboard.ripening import day_label
from dashboard.terms.traits import UNKNOWN, trait_called
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import chance, counted, kind

FOOT = "Dot: average; line: its likely range (90 %)."
SHADED = "Shaded or framed: surely better than at least one other, after looking at all {}."


def grid(asked: Question) -> Markup:
    """The whole of what was set side by side, in a box that scrolls."""
    found = asked.side_by_side
    assert found is not None
    rows = [
        *_market_rows(asked, found),
        _picked(asked, found),
        *_trait_rows(asked, found),
        _seen(found),
    ]
    table = Markup(
        '<table class="sides" style="--across:{}"><thead><tr><th scope="col"><span class="unseen">Trait</span></th>{}'
        '<th scope="col">{}</th></tr></thead><tbody>{}{}</tbody></table>'
    ).format(
        len(found.names), Markup("").join(_head(asked, name) for name in found.names),
        Markup('<span class="kind">what is sure</span>'), _fruit(asked, found), Markup("").join(rows),
    )  # fmt: skip
    return Markup(
        '<div class="card sidebox" tabindex="0" role="region" aria-label="Side by side">{}</div><p class="foot">{}</p>'
    ).format(table, " ".join(foot(asked, found)))


def foot(asked: Question, found: SideBySide) -> list[str]:
    said = [FOOT]
    if found.differences:
        said.append(SHADED.format(counted(len(found.differences), "difference")))
        if asked.site:
            said.append("What is sure is told over all sites, the values for the site you chose.")
    return said


def surely(found: SideBySide, trait: str, better: str) -> tuple[tuple[str, ...], str]:
    """Who is surely better in a trait than at least one other, and the words for it; where neither way is better, none is, and
    the words say who is surely higher."""
    if len(found.names) < 2:
        return (), ""
    if not any(told.trait == trait for told in found.differences):
        return (), "cannot be told"
    names = found.surely_higher(trait, least=better == "less")
    if not names:
        return (), "no sure difference"
    if better == "depends":
        return (), f"surely higher: {', '.join(names)}"
    return names, f"surely better: {', '.join(names)}"


def _head(asked: Question, name: str) -> Markup:
    about = kind({**asked.catalogue.cultivars.loc[name], "status": ""})
    stone = str(asked.catalogue.cultivars.at[name, "stone"])
    words = ", ".join([word for word in (about, stone) if word and word != UNKNOWN])
    return Markup('<th scope="col" class="name"><b>{}</b>{}<span class="kind">{}</span></th>').format(
        opening(name), star(name, name in asked.shortlist), words
    )


def _fruit(asked: Question, found: SideBySide) -> Markup:
    side = drawn.span(found.fruit.values(), asked.units)
    square = "one inch" if asked.units == "us" else "10 mm"
    cells = Markup("").join(
        Markup('<td class="fruits">{}</td>').format(drawn.drawing(found.fruit[name], asked.units, side))
        for name in found.names
    )
    return Markup('<tr><th scope="row">Fruit, cut across</th>{}<td class="says">{}</td></tr>').format(
        cells, f"one scale: a square is {square}, the dashed circle 2½ in"
    )


def _row(label: str, cells: list[Markup], said: str, better: tuple[bool, ...] = ()) -> Markup:
    shaded = better or (False,) * len(cells)
    told = Markup("").join(
        Markup('<td class="{}">{}</td>').format("better" if good else "plain", cell)
        for cell, good in zip(cells, shaded, strict=True)
    )
    return Markup('<tr><th scope="row">{}</th>{}<td class="says">{}</td></tr>').format(label, told, said)


def _market_rows(asked: Question, found: SideBySide) -> list[Markup]:
    """Verdict, score and chance; nothing without a market."""
    if asked.profile is None:
        return []
    rows: Any = asked.rows_of(found.names)
    scores, chances = [], []
    for name in found.names:
        row: Any = {**rows.loc[name], "name": name}
        shown = f"{100 * row['score']:.0f}" if row["score"] == row["score"] else "–"
        bar = score_bar(row["score"], row["score_low"], row["score_high"])
        scores.append(beside(shown, bar, f"score {COLUMNS['score'].told(asked, row)}"))
        chances.append(Markup("{}").format(chance(row["clears"])))
    verdicts = [Markup("{}").format(str(asked.fit["verdict"][name])) for name in found.names]
    told = [
        _row(f"For {asked.profile.name}", verdicts, ""),
        _row("Score of 100", scores, "line: likely range (80 %)"),
        _row("Chance it qualifies", chances, ""),
    ]
    if asked.second_buyer:
        second = [Markup("{}").format(COLUMNS["second"].told(asked, {"name": name})) for name in found.names]
        told.insert(1, _row(f"For {asked.second_buyer.name}", second, ""))
    return told


def _picked(asked: Question, found: SideBySide) -> Markup:
    south, cells = asked.catalogue.south, []
    for name in found.names:
        row: Any = found.windows.loc[name]
        if row["first"] != row["first"]:
            cells.append(Markup('<span class="when">not known</span>'))
            continue
        dates = f"{day_label(row['first'], south)} – {day_label(row['last'], south)}"
        cells.append(over_gaps(asked, row) + Markup('<span class="when">{}</span>').format(dates))
    return _row("Picked", cells, _last(found))


def _last(found: SideBySide) -> str:
    """``Whelundo last, 15 days after Vintoquet``."""
    after = found.days_after.dropna()
    if len(after) < 2 or round(after.max()) == 0:
        return ""
    return f"{after.idxmax()} last, {counted(round(after.max()), 'day')} after {after.idxmin()}"


def _trait_rows(asked: Question, found: SideBySide) -> list[Markup]:
    told = []
    for key, values in found.values.items():
        frame: Any = values
        trait = trait_called(key)
        ends = frame[["estimate", "low", "high"]].to_numpy(dtype=float)
        if not np.isfinite(ends).any():
            continue
        low, high = float(np.nanmin(ends)), float(np.nanmax(ends))
        room = 0.04 * (high - low)
        axis = (low - room, high + room)
        cells = []
        for name in found.names:
            own = frame.loc[name]
            value, least, most = (float(own[end]) for end in ("estimate", "low", "high"))
            if value != value:
                cells.append(Markup('<span class="undrawn">not known</span>'))
                continue
            shown, around = (
                trait.written(value, asked.units),
                f"{trait.written(least, asked.units)} to {trait.written(most, asked.units)}",
            )
            words = f"{shown}, {around if least == least else 'range not known'}"
            cells.append(beside(shown, dot(part(value, *axis), part(least, *axis), part(most, *axis)), words))
        names, said = surely(found, key, way(key, asked.profile))
        told.append(
            _row(trait.heading(asked.units), cells, said, tuple(name in names for name in found.names))
        )
    return told


def _seen(found: SideBySide) -> Markup:
    cells = []
    for name in found.names:
        own: Any = found.counts.loc[name]
        seen = f"{counted(int(own['seasons']), 'season')}, {counted(int(own['sites']), 'site')}"
        cells.append(Markup("{}").format(seen if own["samples"] > 0 else "not sampled"))
    return _row("Seen in", cells, "")
