"""Values that the records have otherwise: old and new beside each other, and one question a file: which of them is right."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from dashboard.records.importing.right import KEEP, RIGHT, SINGLY
from dashboard.serving.bringing import frame
from dashboard.serving.bringing.asking import field_of
from dashboard.wording.figures import counted

STANDS = "What stands is kept, and the cells are set aside, until you say otherwise."


def said(files: Sequence[Mapping[str, Any]], given: Callable[[str], str]) -> dict[str, str]:
    """By name what was said: of a file as a whole, or of the values that were ticked. ``given`` has the text of a field."""
    found: dict[str, str] = {}
    for one in files:
        chosen = given(field_of([one["whole"]]))
        if chosen in (KEEP, RIGHT):
            found[one["whole"]] = chosen
        elif chosen == SINGLY:
            found |= {value["name"]: RIGHT for value in one["values"] if given(field_of([value["name"]]))}
    return found


def other(files: Sequence[Mapping[str, Any]], given: Callable[[str], str]) -> bool:
    """Whether the form says something else than what was read by."""
    found = said(files, given)
    now = {value["name"] for one in files for value in one["values"] if value["right"]}
    wanted = {
        value["name"]
        for one in files
        for value in one["values"]
        if RIGHT in (found.get(one["whole"]), found.get(value["name"]))
    }
    return wanted != now


def section(files: Sequence[Mapping[str, Any]], action: str, turn: int) -> Markup:
    """The question, while it can be answered."""
    if not files:
        return Markup("")
    every, right = sum(one["count"] for one in files), sum(one["right"] for one in files)
    now = f"{counted(right, 'value')} will be replaced when you keep this; what stood is kept in a list." if right else STANDS  # fmt: skip
    return Markup(
        '<h2 id="differing">{} {} from the records</h2><p>{}</p>'
        '<form method="post" action="{}" class="differing" id="differs"><input type="hidden" name="turn" value="{}">{}<p class="does"><button>Take this answer</button></p></form>'
    ).format(counted(every, "value"), "differs" if every == 1 else "differ", now, action, turn, frame.several(map(_file, files)))  # fmt: skip


def kept(files: Sequence[Mapping[str, Any]]) -> Markup:
    """What became of it, once it is kept."""
    right = [value for one in files for value in one["values"] if value["right"]]
    count = sum(one["right"] for one in files)
    return Markup("<h2>{} replaced</h2>{}").format(counted(count, "value"), _table(right, False)) if count else Markup("")  # fmt: skip


def _file(one: Mapping[str, Any]) -> Markup:
    name, count = field_of([one["whole"]]), one["count"]
    chosen = KEEP if not one["right"] else RIGHT if one["right"] == count else SINGLY
    places = f"in all {count:,} places" if count > 2 else "in both places" if count == 2 else "here"
    words = {KEEP: KEEP, RIGHT: f"{RIGHT} {places}", SINGLY: f"{SINGLY}: only where it is ticked"}
    pressed = frame.several(
        Markup('<label><input type="radio" name="{}" value="{}"{}> {}</label>').format(name, word, Markup(" checked") if word == chosen else "", told)
        for word, told in words.items() if count > 1 or word != SINGLY
    )  # fmt: skip
    more = count - len(one["values"])
    return Markup("<fieldset><legend>{} says another value in {}; which is right?</legend>{}<div class='choices'>{}</div>{}{}</fieldset>").format(
        one["file"], counted(count, "place"), frame.several(map(frame.said, one["careful"])), pressed, _table(one["values"], count > 1),
        Markup("<p class='quiet'>And {} more; they are in the sheet of what was set aside.</p>").format(f"{more:,}") if more > 0 else "",
    )  # fmt: skip


def _table(values: Sequence[Mapping[str, Any]], ticked: bool) -> Markup:
    rows = frame.several(
        Markup('<tr>{}<td>{}</td><td class="number">{}</td><td class="number"><b>{}</b></td><td>{}</td></tr>').format(
            _tick(one) if ticked else "", one["where"], one["old"], one["new"], one["cell"]
        )
        for one in values
    )  # fmt: skip
    head = Markup("<th>Right</th>") if ticked else ""
    return Markup(
        '<div class="table values" tabindex="0" role="region" aria-label="Values that differ"><table><tr>{}<th>Value</th><th class="number">Stands</th>'
        '<th class="number">In the file</th><th>Cell</th></tr>{}</table></div>'
    ).format(head, rows)


def _tick(one: Mapping[str, Any]) -> Markup:
    return Markup('<td><input type="checkbox" name="{}" value="yes" aria-label="the file is right: {}"{}></td>').format(
        field_of([one["name"]]), one["where"], Markup(" checked") if one["right"] else ""
    )  # fmt: skip
