"""Views prepared by name, in the order they will be shown: a small file that one can mail and step through.

    [[view]]
    name = "Early yellow peaches for the stand"
    address = "?v=1&flesh_colour=yellow&market=roadside_stand&ripening=06a,06b"
    note = "Ask who sells in June."

An address is what stands behind the page's name in the browser, so a view is made by arranging the page. Whatever is wrong with
a file is told in a sentence; the views that are sound are kept.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from dashboard.market.toml_text import LARGEST, TomlError, toml_table
from dashboard.visit import link as address

MOST = 200  # views
LONGEST = 120  # characters of a name
LONGEST_NOTE = 1000


@dataclass(frozen=True)
class View:
    name: str
    address: str  # a query, "?v=1&..."
    note: str = ""  # for whoever presents it


def read(written: bytes, file: str = "views") -> tuple[tuple[View, ...], list[str]]:
    """The views of a file in their order, and a sentence for each fault, with its place, what stands there and the rule."""
    if len(written) > LARGEST:
        return (), [too_large(len(written), file)]
    try:
        table = toml_table(written)
    except TomlError as fault:
        return (), [f"{file}: {fault}."]
    entries = table.get("view", [])
    if not isinstance(entries, list) or not entries:
        return (), [f"{file}: no view in it; a view begins with [[view]]."]
    views: list[View] = []
    problems: list[str] = []
    for number, entry in enumerate(entries[:MOST], start=1):
        made = _view(entry, f"{file}, view {number}")
        if isinstance(made, str):
            problems.append(made)
        elif any(one.name == made.name for one in views):
            problems.append(
                f"{file}, view {number}: the name “{_short(made.name)}” stands there already; give each its own."
            )
        else:
            views.append(made)
    if len(entries) > MOST:
        problems.append(f"{file}: {len(entries)} views, of which the first {MOST} were read.")
    return tuple(views), problems


def too_large(size: int, file: str = "views") -> str:
    return f"{file}: {size:,} bytes, more than the {LARGEST // 1000} kB a list of views may be; is it the right file?"


def written(views: Iterable[View]) -> str:
    """The file that ``read`` reads."""
    return "\n".join(
        f"[[view]]\nname = {_quoted(one.name)}\naddress = {_quoted(one.address)}\n"
        + (f"note = {_quoted(one.note)}\n" if one.note else "")
        for one in views
    )


def named(views: Iterable[View], name: str, query: str) -> tuple[View, ...]:
    """The views with one more, or with the one of that name put in place; ValueError, one sentence, for a bad name."""
    views, name = tuple(views), _name(name)
    old = next((one for one in views if one.name == name), None)
    made = View(name, query or f"?v={address.VERSION}", old.note if old else "")
    if old:
        return _fitting(made if one is old else one for one in views)
    if len(views) >= MOST:
        raise ValueError(f"There are {MOST} views already, the most there may be; take one off.")
    return _fitting((*views, made))


def changed(views: Iterable[View], place: int, **parts: str) -> tuple[View, ...]:
    """The views with another ``name``, ``address`` or ``note`` at a place that is there; ValueError, one sentence, for a bad one."""
    views = list(views)
    if "name" in parts:
        parts["name"] = _name(parts["name"])
        if any(one.name == parts["name"] for at, one in enumerate(views) if at != place):
            raise ValueError(f"The name “{_short(parts['name'])}” stands there already; give each its own.")
    if len(parts.get("note", "")) > LONGEST_NOTE:
        raise ValueError(
            f"The note has {len(parts['note']):,} characters, more than {LONGEST_NOTE:,}; write a shorter one."
        )
    views[place] = replace(views[place], **parts)
    return _fitting(views)


def merged(mine: Iterable[View], base: Iterable[View], theirs: Iterable[View]) -> tuple[View, ...]:
    """The list of another page, with what was changed and added here since both had ``base``; what the other took off is gone unless
    it was changed here. As many as there may be."""
    own, before = {one.name: one for one in mine}, {one.name: one for one in base}
    here = {name: one for name, one in own.items() if before.get(name) != one}
    off = {name for name in before if name not in own}  # taken off, or named anew, here
    kept = [here.pop(one.name, one) for one in theirs if one.name not in off]
    return (*kept, *here.values())[:MOST]


def _name(name: str) -> str:
    name = " ".join(name.split())
    if not name:
        raise ValueError("A view needs a name; write one.")
    if len(name) > LONGEST:
        raise ValueError(f"The name has {len(name)} characters, more than {LONGEST}; write a shorter one.")
    return name


def _fitting(views: Iterable[View]) -> tuple[View, ...]:
    """The same; ValueError where their own file could not be read again."""
    kept = tuple(views)
    if len(written(kept).encode()) > LARGEST:
        raise ValueError(
            f"The list would be more than the {LARGEST // 1000} kB it may be; take one off, or ask for less in this view."
        )
    return kept


def moved(views: Iterable[View], place: int, by: int) -> tuple[View, ...]:
    """The views with the one at ``place`` so many places further down; as they are where it cannot go there."""
    order = list(views)
    if 0 <= place < len(order) and 0 <= place + by < len(order):
        order.insert(place + by, order.pop(place))
    return tuple(order)


def _view(entry: Any, place: str) -> View | str:
    if not isinstance(entry, dict):
        return f"{place}: is no table; write [[view]], then name and address."
    for key in ("name", "address"):
        if not isinstance(entry.get(key), str) or not entry[key].strip():
            return f'{place}, {key}: is missing or no text; write {key} = "…".'
    spare = [key for key in entry if key not in ("name", "address", "note")]
    if spare:
        return f"{place}, {_short(spare[0])}: not an entry of a view; there are name, address and note."
    note = entry.get("note", "")
    if not isinstance(note, str) or len(note) > LONGEST_NOTE:
        return f"{place}, note: no text, or more than {LONGEST_NOTE:,} characters; write a shorter one."
    name, query = " ".join(entry["name"].split()), entry["address"].strip()
    if len(name) > LONGEST:
        return f"{place}, name: {len(name)} characters, more than {LONGEST}; write a shorter one."
    query = query[query.index("?") :] if "?" in query else query  # a whole address may have been put in
    if not query.startswith("?"):
        return f"{place}, address: “{_short(query)}” has no question mark; copy what stands in the browser's address bar."
    if len(query) > address.LONGEST:
        return f"{place}, address: {len(query):,} characters, more than {address.LONGEST:,}; ask for less in one view."
    return View(name, query, note)


def _short(text: str) -> str:
    plain = "".join(c if c.isprintable() else "·" for c in str(text))
    return plain if len(plain) <= 60 else plain[:59] + "…"


def _quoted(text: str) -> str:
    """A TOML basic string."""
    marks = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}
    return '"' + "".join(marks.get(c, c if c.isprintable() else f"\\U{ord(c):08x}") for c in text) + '"'
