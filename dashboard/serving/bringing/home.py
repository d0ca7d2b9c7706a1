"""The first page of this room: where sheets are dropped, what is on its way, what came in."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from markupsafe import Markup

from dashboard.records.trays.kept import Came
from dashboard.records.trays.tray import GATHERING, KEPT, Tray
from dashboard.serving.bringing import frame, told
from dashboard.wording.figures import counted

SHOWN = 30


def body(
    trays: Sequence[Tray], came: Sequence[Came], who: str, bench: Markup, notice: str = "", done: str = ""
) -> Markup:
    waiting = [one for one in trays if one.stage != KEPT and (one.files or one.stage != GATHERING)]
    waiting.sort(key=lambda one: one.who != who)
    return frame.several([
        frame.said(notice), frame.said(done, "good"), told.drop(),
        Markup("<h2>On its way</h2>{}").format(_waiting(waiting) if waiting else Markup("<p>Nothing waits.</p>")),
        bench,
        Markup("<h2>What came in</h2>{}").format(_came(came) if came else Markup("<p>Nothing came in by this page yet.</p>")),
        told.DOES,
    ])  # fmt: skip


def _waiting(trays: Sequence[Tray]) -> Markup:
    items = frame.several(
        Markup('<li><span class="grow"><b>{}</b><br>{}, brought by {}, {}</span><a class="button next" href="{}">Go on</a></li>').format(
            ", ".join(one.files) or "no file yet", told.state_of(one), one.who, _when(one.began), told.address(one)
        )
        for one in trays
    )  # fmt: skip
    return Markup('<ul class="plain">{}</ul>').format(items)


def _came(came: Sequence[Came]) -> Markup:
    rows = frame.several(
        Markup('<tr><td class="number">{}</td><td>{}</td><td>{}</td><td>{}</td><td class="number">{}</td><td class="number">{}</td><td>{}</td></tr>').format(
            one.number, _when(one.at), one.who, one.file, f"{one.new:,}", f"{one.left_out:,}", _undo(one)
        )
        for one in came[:SHOWN]
    )  # fmt: skip
    more = f"And {counted(len(came) - SHOWN, 'earlier one')}." if len(came) > SHOWN else ""
    return Markup(
        '<div class="table" tabindex="0" role="region" aria-label="What came in"><table><tr><th class="number">Import</th><th>When</th><th>Who</th><th>Files</th>'
        '<th class="number">New rows</th><th class="number">Set aside</th><th>Take back</th></tr>{}</table></div><p>{}</p>'
    ).format(rows, more)  # fmt: skip


def _undo(one: Came) -> Markup:
    if one.undone:
        return Markup("taken back by {}").format(one.undone)
    words = f"Put import {one.undoes} back" if one.undoes else "Take back"
    return Markup(
        '<button form="does" formaction="{}/undo?number={}" aria-label="{} ({})">{}</button>'
    ).format(frame.HOME, one.number, words, f"import {one.number}", words)


def _when(said: str) -> str:
    """UTC as the machine's own time, to the minute."""
    try:
        return f"{datetime.fromisoformat(said).astimezone():%b %d, %Y, %H:%M}"
    except ValueError:
        return said
