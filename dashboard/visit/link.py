"""A question written into a link, and read back: every choice, in a fixed order, with a version.

A link is text from a stranger. Reading it never fails: what it asks for and we do not have is left out and told in
one sentence each, in plain text.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import quote, unquote_plus

from dashboard.answers.choosing import Known, as_text
from dashboard.records.names import nearest
from dashboard.terms.traits import CLASSES

VERSION = 1
LONGEST = 32_000  # characters; servers refuse a request line much longer than this
MOST_NOTES = 5
MOST_FURTHER = 100  # values that are on no list, of one field
IN_LINKS = {"season_kind": "year"}  # what a link calls otherwise than we do: links made before still open
_FIELDS = {name: field for field, name in IN_LINKS.items()}
_SAFE = "-_.~ "  # kept as written in a value; the comma parts items, so it is always encoded


def written(choices: dict[str, Any], defaults: dict[str, Any]) -> str:
    """The link's query, ``?v=1&...``: all choices that differ from the defaults, so a short link stays short.

    The defaults belong to the link's version: whoever changes one raises ``VERSION``.
    """
    parts = [f"v={VERSION}"]
    for field, value in choices.items():
        if value == defaults[field]:
            continue
        items = value if isinstance(value, tuple) else (value,)
        parts.append(
            f"{IN_LINKS.get(field, field)}="
            + ",".join(quote(as_text(item), safe=_SAFE).replace(" ", "+") for item in items)
        )
    return "?" + "&".join(parts)


def read(query: str, known: dict[str, Any], defaults: dict[str, Any]) -> tuple[dict[str, Any], list[str]]:
    """The choices a link asks for, and a sentence for each part that could not be followed.

    ``known`` maps each field to the values it may take: a collection of strings or whole numbers, a mapping of spellings to
    values, or what says by ``in`` whether it knows one, by ``fault`` why it does not and by ``most`` how many it is asked about.
    ``defaults`` tells by its type whether a field holds one value or several.
    """
    query = query.lstrip("?")
    if not query:
        return {}, []
    if len(query) > LONGEST:
        return {}, [
            f"This link is {len(query):,} characters long, more than {LONGEST:,}; it was not followed. Ask for it again."
        ]
    choices: dict[str, Any] = {}
    notes: list[str] = []
    met: set[str] = set()
    further = 0  # faults that are counted and not told
    for part in query.split("&"):
        name, _, text = part.partition("=")
        name = unquote_plus(name)
        field = _FIELDS.get(name, name)
        if name == "v":
            if text != str(VERSION):
                notes.append(
                    f"This link was made by another version of this page ({_short(unquote_plus(text))}); some choices may be missing."
                )
            continue
        if field not in defaults or name in IN_LINKS:
            notes.append(
                f"This link asks for {_short(name)}, which this page does not know; it was left out."
            )
            continue
        words = CLASSES[name][0].lower() if name in CLASSES else name.replace("_", " ")
        value, missed, spare = _followed(
            [unquote_plus(item) for item in text.split(",") if item], known[field], defaults[field]
        )
        if spare or field in met:
            notes.append(f"This link asks for {words} more than once; the first was followed.")
        told = missed[: max(0, MOST_NOTES - len(notes))]  # what is only counted in the end is not looked up
        notes += [_left_out(words, item, known[field]) for item in told]
        further += len(missed) - len(told)
        if value is not None and field not in met:
            choices[field] = value
        met.add(field)
    if (further := further + len(notes[MOST_NOTES:])) > 0:
        notes[MOST_NOTES:] = [f"{further} further parts of this link could not be followed."]
    return choices, notes


def _followed(items: list[str], known: Any, default: Any) -> tuple[Any, list[str], bool]:
    """What can be followed of one field's items, the items that cannot, and whether one value was given several times."""
    if isinstance(known, Iterable):
        spelled = dict(known) if isinstance(known, Mapping) else {as_text(value): value for value in known}
        if isinstance(known, Known):
            spelled |= {item: item for item in items[:MOST_FURTHER] if item in known}
        there = set(spelled)
        good = [spelled[item] for item in items if item in there]
    else:  # not to be counted out: it says itself what it knows
        good = [item for item in items[: known.most] if item in known]
        there = set(good)
    missed = [item for item in items if item not in there]
    if isinstance(default, tuple):
        return tuple(dict.fromkeys(good)) or None, missed, False
    return (good[0] if good else None), missed, len(good) > 1


def _left_out(words: str, item: str, known: Any) -> str:
    if isinstance(known, Iterable):
        near = nearest(item, (value for value in known if isinstance(value, str)))
        if near and isinstance(known, Mapping):
            near = str(known[near])
        hint = f" Did you mean {_short(near)}?" if near else ""
        return f"This link asks for {words} {_short(item)}, which these records do not have; it was left out.{hint}"
    return f"This link's line {_short(item)} was left out: {_short(known.fault(item), 200)[1:-1]}"


def _short(text: str, longest: int = 60) -> str:
    """A stranger's text in quotes, cut to a readable length, without control characters."""
    plain = "".join(c if c.isprintable() else "·" for c in text)
    return "“" + (plain[:longest] + "…" if len(plain) > longest else plain) + "”"
