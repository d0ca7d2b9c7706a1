"""A tray read into a copy of the trial: what has to be known first, or what would come in. The records themselves are not touched.

All of it is said in what JSON can hold, so that it outlives the server.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from dashboard.records.all_or_none import OWN
from dashboard.records.causes import gathered
from dashboard.records.heaps import LOOK, MEND, fine, heaps, in_order
from dashboard.records.importing.aside import NAME, is_aside
from dashboard.records.importing.first_days import to_begin_with
from dashboard.records.importing.incoming import WORDS, bring_in
from dashboard.records.importing.mapping import (
    Path_,
    Question,
    read_answers,
    write_answers,
)
from dashboard.records.importing.outcome import Outcome
from dashboard.records.importing.right import by_file, careful, whole
from dashboard.records.problems import Problem, seen
from dashboard.records.report import written
from dashboard.records.sources import DECLARATION
from dashboard.records.store.leaving import write_out
from dashboard.records.trays.desk import KNOWN, Desk, held, state, tables_in
from dashboard.records.trays.sharing import shared
from dashboard.records.trays.tray import ASKED, KEPT, READ, REFUSED, Tray, tray

MOST_TOLD = 60  # causes of a heap
MOST_VALUES = 400  # of a file, that differ and are shown one by one
_PROBLEM = ("severity", "file", "sheet", "row", "column", "value", "rule", "suggestion", "sure")


def look(
    desk: Desk, name: str, said: Mapping[Path_, str] | None = None, longer: bool = False, differing: dict[str, str] | None = None
) -> Tray:  # fmt: skip
    """Read a tray anew, with the answers ``said`` by the path of their question; its ``stage`` says how far it came. ``longer``: the trial
    is also of the seasons that it was refused for. ``differing``: by name what is right where the records have another value (``right``).

    TrayError, MappingError, OSError or StoreError where that cannot be.
    """
    one = tray(desk, name)
    if one.stage == KEPT:
        return one
    with held(desk):
        stands = state(desk)
        copy_records(desk, one.trial)
    if differing is not None:
        one.differing = differing
    if longer and one.found.get("seasons"):
        one.seasons = one.found["seasons"]
    if one.seasons:
        _lengthen(one)
    sheets = [path for path in one.paths if not is_aside(path)]
    for path in one.paths:
        if path not in sheets:  # what was set aside, corrected
            (one.trial / OWN).mkdir(exist_ok=True)
            shutil.copyfile(path, one.trial / OWN / NAME)
    if not sheets:
        return _told(one, REFUSED, {"said": ["Bring the sheets themselves, too, beside the one of what was set aside."]})  # fmt: skip
    _answer(desk, one, said or {})
    outcome = bring_in(sheets, one.trial, one.mapping, said=one.differing, who=one.who)
    if outcome.questions:
        return _told(one, ASKED, _asked(outcome, said or {}))
    if not outcome.counts:
        text = outcome.text.replace(str(one.trial), str(desk.place)).replace("run the command again", "bring it again")  # fmt: skip
        lines = [seen(line) for line in text.splitlines() if '"seasons"' not in line]
        return _told(one, REFUSED, {"said": lines, "seasons": list(outcome.seasons)})
    return _told(one, READ, {**_read(outcome, one), "stands": stands})


def copy_records(desk: Desk, into: Path) -> None:
    """The records as a folder of tables, with what waits beside them."""
    shutil.rmtree(into, ignore_errors=True)
    if desk.store:
        write_out(desk.place, into)
        photos = Path(desk.place).parent / "photos"
    else:
        into.mkdir()
        for path in tables_in(Path(desk.place)):
            shutil.copyfile(path, into / path.name)
        photos = Path(desk.place) / "photos"
    if photos.is_dir():
        with suppress(OSError):  # then photographs are not looked for
            (into / "photos").symlink_to(photos.resolve(), target_is_directory=True)
    for there, here in (
        (desk.aside, f"{OWN}/{NAME}"),
        *((Path(desk.place) / name, name) for name in KNOWN),
    ):
        if there.is_file():
            (into / OWN).mkdir(exist_ok=True)
            shutil.copyfile(there, into / here)


def _lengthen(one: Tray) -> None:
    """The copy is of the further seasons, too."""
    place = one.trial / DECLARATION
    package = json.loads(place.read_text(encoding="utf-8"))
    package["orchard_slate"]["seasons"] = one.seasons
    place.write_text(json.dumps(package, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def problems_of(found: Mapping[str, Any]) -> list[Problem]:
    """What was set aside, as it was told."""
    return [Problem(**one) for one in found["problems"]]


def _answer(desk: Desk, one: Tray, said: Mapping[Path_, str]) -> None:
    """The answers of the tray with the new ones, beside those that others gave meanwhile."""
    mine = read_answers(one.mapping)
    asked = {tuple(question["path"]) for question in one.found.get("questions", [])}
    for path, text in said.items():
        if path in asked and text:  # what was not asked is no answer
            mine.put(path, text)
    write_answers(one.mapping, shared(read_answers(desk.mapping), mine), words=WORDS)


def _told(one: Tray, stage: str, found: dict[str, Any]) -> Tray:
    one.stage, one.found, one.turn = stage, found, one.turn + 1
    one.write()
    return one


def _asked(outcome: Outcome, said: Mapping[Path_, str]) -> dict[str, Any]:
    """Columns and days first: a file of a year that the trial has not is refused before anything else is asked."""
    early = to_begin_with(outcome.questions)
    return {
        "questions": [_question(one, said) for one in early or outcome.questions],
        "later": len(outcome.questions) - len(early) if early else 0,
        "told": [*outcome.told, *written(gathered(outcome.problems)).splitlines()],
    }


def _question(one: Question, said: Mapping[Path_, str]) -> dict[str, Any]:
    return {
        "path": list(one.path), "about": seen(one.about), "asks": one.asks, "options": list(one.options), "shown": [seen(line) for line in one.shown],
        "offer": one.offer, "not_understood": said.get(one.path, ""), "alike": list(one.alike), "line": [seen(text) for text in one.line],
        "count": one.count, "figures": list(one.figures), "proposal": one.proposal, "becomes": seen(one.becomes),
    }  # fmt: skip


def _read(outcome: Outcome, one: Tray) -> dict[str, Any]:
    told = {problem.rule for problem in outcome.problems}
    apart = {value.rule for value in outcome.differing}
    rest = [problem for problem in outcome.problems if problem.rule not in apart]
    every = in_order([*rest, *(problem for problem in outcome.odd if problem.rule not in told)])
    by_heap = heaps(every)
    good, samples = fine(outcome.odd, outcome.samples)
    return {
        "counts": outcome.counts, "came": outcome.came, "cultivars": outcome.cultivars, "fine": [good, samples],
        "heaps": {name: _causes(by_heap[name]) for name in (MEND, LOOK)},
        "problems": [{name: getattr(problem, name) for name in _PROBLEM} for problem in outcome.problems],
        "differing": _differing(outcome), "replaced": len(outcome.replaced), "rescaled": outcome.rescaled,
        "aside": (one.trial / OWN / NAME).exists() and outcome.counts["aside"] > 0,
    }  # fmt: skip


def _differing(outcome: Outcome) -> list[dict[str, Any]]:
    """By file the values that the records have otherwise, each with what stands, what the file has, and whether that replaces it."""
    right = {one.name for one in outcome.replaced}
    every = sorted([*outcome.differing, *outcome.replaced], key=lambda one: one.code)
    return [
        {
            "file": file, "whole": whole(same), "count": len(same), "right": sum(one.name in right for one in same), "careful": careful(same, outcome.alike),
            "values": [
                {"name": one.name, "at": list(one.at), "where": seen(one.where), "old": seen(one.old), "new": seen(one.new), "cell": one.place, "written": seen(one.written), "right": one.name in right}
                for one in same[:MOST_VALUES]
            ],
        }
        for file, same in by_file(every).items()
    ]  # fmt: skip


def _causes(problems: Sequence[Problem]) -> dict[str, Any]:
    """A line a cause, and how many places there are."""
    lines = [
        f"{problem.whose}: {problem.sentence}" if str(problem.whose or "") else problem.sentence
        for problem in gathered(problems)
    ]
    return {"places": len(problems), "lines": lines[:MOST_TOLD], "more": max(0, len(lines) - MOST_TOLD)}
