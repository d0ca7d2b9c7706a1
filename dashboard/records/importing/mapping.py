"""What somebody has said of their sheets, kept in ``mapping.toml``: readable, used again next week, and written anew with each answer.

An answer that begins with ? is still a question; what stands behind the mark is an offer.
"""

from __future__ import annotations

import re
import textwrap
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from dashboard.places import put
from dashboard.records.problems import seen

FORMAT = 1
OPEN = "?"
DIFFERING = "differing"  # the part about values that the trial has otherwise
ANY = "a value of your own"
LARGEST = 5_000_000
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_HEAD = (
    "How the sheets are read that come into this trial.",
    "A value that begins with ? is a question. Write the answer in its place, or take away the mark where the offer is right.",
    "Then run the same command again. Below each question stand cells and what they would become.",
    "Answers are kept and used next week. A sheet of another shape gets a layout of its own, and is asked about anew.",
    "This file is written anew each time. Notes of your own are not kept.",
)
_MANY = 12  # words that may be answered, from which on they stand once at the top
_PARTS = ("trial", "headings_in_row", "encoding", "months", "new_cultivars", "cultivars", "sites", DIFFERING)
_TOLD = {
    "headings_in_row": "# By file and sheet: the row that holds the headings, where it was not found.",
    "months": "# Left a word for a month as the sheets have it, right the month.",
    "new_cultivars": "# Names that no record has yet: “yes” where each of them is a cultivar of its own, as it is spelled.",
    "cultivars": "# Left as the sheets have it, right the name it stands for. “not used” leaves out the row.",
    "sites": "# Left as the sheets have it, right the short name of the site.",
    DIFFERING: "# Values that the trial has otherwise: which is right. An answer holds for these very values, and a file that was right is forgotten.",
}

Path_ = tuple[str | int, ...]


class MappingError(ValueError):
    """Why a mapping cannot be used, in one sentence."""


@dataclass(frozen=True)
class Question:
    """One thing that has to be known. ``path`` is where its answer stands in the mapping.

    One answer may hold for several (``together``): for those that have the same in ``alike``, of which the first is their kind, and figures
    far from each other. ``line`` is what a list says of it: a letter, its name, what is seen there; ``proposal`` what it is taken
    for where the whole list is said to be right, and ``becomes`` what that makes of the cells; without it what each answer would.
    """

    path: Path_
    asks: str
    options: tuple[str, ...] = ()  # words that may be answered; with ANY, or none, something else as well
    shown: tuple[str, ...] = ()  # cells, and what they would become
    offer: str = ""
    about: str = ""  # the heading or place it is asked of
    may: Callable[[str], bool] = bool  # whether something else is an answer
    refuses: Callable[[str], str] = lambda said: ""  # why a word cannot be the answer here, in one sentence
    alike: tuple[str, ...] = ()
    line: tuple[str, str, str] = ("", "", "")
    count: int = 0  # cells that it is about, where they are counted
    figures: tuple[float, ...] = ()  # the middle of its figures, or of ratings both ends
    proposal: str = ""
    becomes: str = ""
    other_word: Callable[[str], str] = lambda said: (
        ""
    )  # the word that is meant by one in other letters: lb is lbf

    def takes(self, said: object) -> bool:
        """Whether this is an answer."""
        text = "" if said is None else str(said)
        free = not self.options or ANY in self.options
        return (
            text not in ("", ANY)
            and (text in self.options or (free and self.may(text)))
            and not self.refuses(text)
        )

    @property
    def numbered(self) -> bool:
        """Whether a number may stand for a word: not where a number may be the answer itself, as in “of how many fruit?”."""
        return self.may is bool or ANY not in self.options or not self.may("1")

    def meant(self, said: str) -> str:
        """One of the words, where it is typed in other letters, like june, or otherwise, like lb; else what was typed."""
        alike = [word for word in self.options if word.casefold() in (said.casefold(), self.other_word(said))]
        return alike[0] if len(alike) == 1 and said not in self.options else said


@dataclass
class Answers:
    """The mapping as nested tables: ``layout`` a list, the other parts by name."""

    data: dict[str, Any] = field(default_factory=lambda: {"format": FORMAT, "layout": []})

    @property
    def layouts(self) -> list[dict[str, Any]]:
        return self.data.setdefault("layout", [])

    def part(self, name: str) -> dict[str, Any]:
        return self.data.setdefault(name, {})

    def at(self, path: Path_) -> Any:
        """The answer at a path; None where it is missing or still a question."""
        found: Any = self.data
        for step in path:
            if isinstance(found, list):
                found = found[step] if isinstance(step, int) and step < len(found) else None
            elif isinstance(found, Mapping):
                found = found.get(step)
            else:
                return None
        return None if isinstance(found, str) and found.lstrip().startswith(OPEN) else found

    def put(self, path: Path_, value: Any) -> None:
        found: Any = self.data
        for step in path[:-1]:
            if isinstance(found, list):
                found = found[int(step)]
                continue
            if not isinstance(
                found.get(step), dict | list
            ):  # an answer for all, where one a file is asked for
                found[step] = {}
            found = found[step]
        found[path[-1]] = value

    def ask(self, question: Question) -> None:
        """Leave the question where its answer is to stand; what somebody wrote there and cannot be is not kept."""
        self.put(question.path, f"{OPEN} {question.offer}".strip())


def read_answers(path: Path) -> Answers:
    """The mapping of a file; an empty one where there is none. MappingError where it cannot be understood."""
    if not path.exists():
        return Answers()
    try:
        if path.stat().st_size > LARGEST:
            raise MappingError(f"{path}: is larger than a mapping can be.")
        data = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as fault:
        said = " ".join(str(fault).split())[:120]
        raise MappingError(
            f"{path}: is not TOML ({said}); see that each answer stands between quotation marks."
        ) from None
    except OSError as fault:
        raise MappingError(f"{path}: cannot be read ({fault.strerror}).") from None
    unknown = [key for key in data if key not in ("format", "layout", *_PARTS)]
    if data.get("format") != FORMAT or unknown:
        what = f"the part {unknown[0]} is not known" if unknown else f"it does not say format = {FORMAT}"
        raise MappingError(f"{path}: is no mapping of sheets; {what}.")
    layouts = data.get("layout", [])
    good = isinstance(layouts, list) and all(
        isinstance(one, dict) and isinstance(one.get("headings"), list) for one in layouts
    )
    if not good or not all(isinstance(data.get(name, {}), dict) for name in _PARTS):
        raise MappingError(
            f"{path}: each [[layout]] has a list of headings, and the other parts are tables; let it be written anew."
        )
    return Answers(data)


def write_answers(
    path: Path, answers: Answers, questions: Iterable[Question] = (), words: Iterable[str] = ()
) -> None:
    """The mapping, ``words`` for columns at its top, with its open questions, each with what it shows beside it. OSError where it cannot be written."""
    asked = {question.path: question for question in questions}
    lines = [*(f"# {line}" for line in _HEAD), *_listed(words), "", f"format = {FORMAT}"]
    for name in _PARTS:
        if table := answers.data.get(name):
            lines += [
                "",
                *([_TOLD[name]] if name in _TOLD else []),
                f"[{name}]",
                *_entries((name,), table, asked),
            ]
    for number, layout in enumerate(answers.layouts):
        lines += ["", "", "[[layout]]"]
        plain = {key: value for key, value in layout.items() if not isinstance(value, dict)}
        lines += _entries(("layout", number), plain, asked)
        for name, table in layout.items():
            if not isinstance(table, dict):
                continue
            nested = {key: value for key, value in table.items() if isinstance(value, dict)}
            if flat := {key: value for key, value in table.items() if key not in nested}:
                lines += ["", f"[layout.{name}]", *_entries(("layout", number, name), flat, asked)]
            for key, inner in nested.items():
                if not inner:
                    continue
                lines += [
                    "",
                    f"[layout.{name}.{_key(key)}]",
                    *_entries(("layout", number, name, key), inner, asked),
                ]
    path.parent.mkdir(parents=True, exist_ok=True)
    put(path, ("\n".join(lines) + "\n").encode("utf-8"))


def _listed(words: Iterable[str]) -> list[str]:
    """The words, as many on a line as it takes."""
    said = ", ".join(words)
    return [f"#   {line}" for line in textwrap.wrap(f"A column is one of: {said}.", 110)] if said else []


def _entries(path: Path_, table: Mapping[str, Any], asked: Mapping[Path_, Question]) -> list[str]:
    lines: list[str] = []
    for key, value in sorted(table.items(), key=lambda one: one[0] != "is"):
        here = (*path, key)
        inner = [asked[one] for one in asked if one[:-1] == here]
        for question in [*([asked[here]] if here in asked else []), *inner]:
            about = f"{question.about}: " if question.about else ""
            lines += [f"# {seen(line)}" for line in (about + question.asks, *question.shown)]
            if len(question.options) > _MANY:
                lines.append("#   answer: a word of the list at the top")
            elif question.options:
                lines.append(f"#   answer: {seen(' | '.join(question.options))}")
        lines.append(f"{_key(key)} = {_value(value)}")
    return lines


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _text(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return f"[{', '.join(_value(one) for one in value)}]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_value(one)}" for key, one in value.items()) + " }"
    return str(value) if isinstance(value, int | float) else _text(str(value))


def _text(text: str) -> str:
    """A basic string of TOML on one line; what cannot be seen stands as its code."""
    said = "".join(
        f"\\{letter}"
        if letter in '"\\'
        else letter
        if letter.isprintable()
        else f"\\u{ord(letter):04x}"
        if ord(letter) < 0x10000
        else f"\\U{ord(letter):08x}"
        for letter in text
    )
    return f'"{said}"'
