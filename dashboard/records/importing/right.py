"""Values that differ from the trial: what is asked of them, and which of them somebody said are right in the file.

An answer holds for the very values it was given for: where one of them is another meanwhile, it is asked anew.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dashboard.records.importing.aside import Corrections
from dashboard.records.importing.differs import Differs
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import DIFFERING, OPEN, Answers, Question
from dashboard.records.problems import quoted, seen

KEEP, RIGHT, SINGLY = "keep what stands", "the file is right", "one by one"
SHOWN = 12
EVERYWHERE = {"*": RIGHT}  # every value of every file that is read
Alike = Mapping[tuple[str, str], int]  # by table and first name of the key, how many values say the same


@dataclass(frozen=True)
class Said:
    """What somebody said of values, ``of_values`` by name, None where it is kept among the answers; ``who`` brings the files in, ``newest``
    of them first. ``right``: the names of the values that replace what stands, once that is known."""

    of_values: Mapping[str, str] | None
    who: str
    same: set[tuple[str, str, str]] | None
    newest: Sequence[str]
    right: frozenset[str] = frozenset()

    @property
    def kept(self) -> bool:
        return self.of_values is None

    def given(self, answers: Answers) -> Mapping[str, Any]:
        return answers.part(DIFFERING) if self.of_values is None else self.of_values

    def open(self, ledger: Ledger, answers: Answers) -> list[Question]:
        return open_of(ledger.differing, self.given(answers), ledger.alike, self.newest)


def newest(files: Sequence[Path]) -> list[str]:
    """The names of the files, the one saved last first."""
    saved = {path.name: path.stat().st_mtime if path.exists() else 0.0 for path in files}
    return sorted(saved, key=lambda name: -saved[name])


def chosen(
    ledger: Ledger, given: Mapping[str, Any], corrections: Corrections, newest: Sequence[str],
    asked: Callable[[list[Question]], bool] | None,
) -> frozenset[str] | None:  # fmt: skip
    """The names of the values that the files are right in, after somebody was ``asked``, where there is somebody; None where they put it
    off."""
    while asked is not None and (questions := open_of(ledger.differing, given, ledger.alike, newest)):
        if not asked(questions):
            return None
    return right(ledger.differing, given, corrections)


def left_to_say(ledger: Ledger, answers: Answers, said: Said) -> list[Question] | None:
    """What is still open stands among the answers as a question; that a file was right is forgotten there. None where nothing is another than
    it was."""
    if not said.kept:
        return None
    given = answers.part(DIFFERING)
    before = dict(given)
    forget(given, said.newest, ledger.differing)
    questions = said.open(ledger, answers)
    for question in questions:
        answers.ask(question)
    return questions if questions or given != before else None


def by_file(differing: Sequence[Differs], newest: Sequence[str] = ()) -> dict[str, list[Differs]]:
    """Those of each file; ``newest``: the names of the files, the one saved last first."""
    found: dict[str, list[Differs]] = {}
    for one in differing:
        found.setdefault(one.file, []).append(one)
    return dict(sorted(found.items(), key=lambda one: newest.index(one[0]) if one[0] in newest else 0))


def whole(same: Sequence[Differs]) -> str:
    """The name of all values of one file that differ; another one as soon as one of them is another."""
    names = "\n".join(sorted(one.name for one in same))
    return f"{same[0].file}: {len(same)} values, {hashlib.sha256(names.encode()).hexdigest()[:8]}"


def open_of(
    differing: Sequence[Differs], said: Mapping[str, Any], alike: Alike, newest: Sequence[str] = ()
) -> list[Question]:
    """What nobody has said yet: a question a file, or one a value where that was chosen."""
    found = []
    for file, same in by_file(differing, newest).items():
        left = [one for one in same if _answer(said, one.name) is None]
        begun = whole(same) not in said and any(one.name in said for one in left)
        chosen = SINGLY if begun else _answer(said, whole(same))
        if not left or chosen in (KEEP, RIGHT):
            continue
        if chosen == SINGLY:
            found += [_of_one(one) for one in left]
            continue
        several = len(newest) > 1 and file == newest[0]
        about = f"{file}{', the newest file' if several else ''}"
        places = f"{len(left):,} places" if len(left) > 1 else "1 place"
        others = {"the trial" if not one.beside else "another file" for one in left}
        asks = f"it says another value than {' or '.join(sorted(others, reverse=True))} in {places}; which is right?"
        options = (KEEP, RIGHT, SINGLY) if len(left) > 1 else (KEEP, RIGHT)
        found.append(Question((DIFFERING, whole(same)), asks, options, tuple(shown(left, alike)), KEEP, about))  # fmt: skip
    return found


def _of_one(one: Differs) -> Question:
    return Question((DIFFERING, one.name), one.told, (KEEP, RIGHT), (), KEEP, one.file)


def shown(differing: Sequence[Differs], alike: Alike, most: int = SHOWN) -> list[str]:
    """Old and new, a line a value; first what is rather another sample than a correction."""
    lines = [f"  {seen(one.told)}" for one in differing[:most]]
    more = len(differing) - most
    others = [f"  {line}" for line in careful(differing, alike)]
    return [*others, *lines, *([f"  and {more:,} more"] if more > 0 else [])]


def careful(differing: Sequence[Differs], alike: Alike) -> list[str]:
    """Samples most of whose values differ."""
    count = Counter((one.table, one.key[0]) for one in differing)
    return [
        f"Careful: in {quoted(sample)} {differ:,} of {differ + alike.get((table, sample), 0):,} values differ; that may be another pick, not a correction."
        for (table, sample), differ in count.items() if differ > 2 and differ > alike.get((table, sample), 0)
    ][:SHOWN]  # fmt: skip


def right(differing: Sequence[Differs], said: Mapping[str, Any], corrections: Corrections) -> frozenset[str]:
    """The names of the values that replace what stands, because somebody said so."""
    found = set()
    for same in by_file(differing).values():
        all_of_it = _answer(said, whole(same)) or _answer(said, "*")
        for one in same:
            beside = corrections.get((one.file, one.sheet, one.cell))
            written = beside is not None and beside.replaces and beside.why == seen(one.rule)
            if written or (_answer(said, one.name) or all_of_it) == RIGHT:
                found.add(one.name)
    return frozenset(found)


def forget(said: dict[str, Any], files: Sequence[str], left: Sequence[Differs]) -> None:
    """Of the ``files`` that were read, keep only what still holds: that a value that is ``left`` stays as it stands, and what is open."""
    still = {one.name for one in left} | {whole(same) for same in by_file(left).values()}
    for name in list(said):
        of_these = any(name.startswith((f"{file}, ", f"{file}: ")) for file in files)
        if of_these and (name not in still or _answer(said, name) == RIGHT):
            del said[name]


def _answer(said: Mapping[str, Any], name: str) -> str | None:
    """None where it is open, or is no answer."""
    found = str(said.get(name, OPEN)).strip()
    return found if found in (KEEP, RIGHT, SINGLY) else None
