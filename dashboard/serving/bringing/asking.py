"""Questions as a form, and a form as answers. Each question is known by a hash of its path, so that an old form answers nothing else.

What one answer may hold for stands in one box (``together``); a line of it that is another thing has a field of its own, which counts.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from markupsafe import Markup

from dashboard.records.importing.grouped import together
from dashboard.records.importing.kinds import (
    BY_EXAMPLE,
    COLUMNS,
    DECIMALS,
    DOUBTED,
    LISTS,
    READINGS,
    SCALES,
    UNITS,
    YES,
)
from dashboard.records.importing.mapping import ANY, Question
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.importing.together import Part, Together, answer
from dashboard.serving.bringing import fields, frame
from dashboard.serving.bringing.fields import OWN

# Where a wrong answer changes figures without a sign, nothing is chosen beforehand: what was said last time stands beside it.
_NEVER_CHOSEN = ("unit", "scale", "order", "year", "century", "zero", "decimals", "date_cells", "day_numbers")
_NAMES = ("cultivars", "sites", "months")
_BY_SHEET = (COLUMNS, UNITS, DOUBTED, SCALES, DECIMALS)  # kinds of which a line may be of several sheets
_TABLES = (COLUMNS, READINGS)  # kinds of which each line stands with its choice, as it would be taken


def field_of(path: Sequence[object]) -> str:
    return "q" + hashlib.sha256(json.dumps(list(path), ensure_ascii=False).encode()).hexdigest()[:20]


def groups(questions: Sequence[Mapping[str, Any]]) -> list[Together]:
    """What is asked, as it is asked on a terminal."""
    return together([_question(one) for one in questions])


def _question(one: Mapping[str, Any]) -> Question:
    known: dict[str, Any] = {
        name: tuple(one[name]) if isinstance(one[name], list) else one[name]
        for name in ("path", "asks", "options", "shown", "offer", "about", "alike", "line", "count", "figures", "proposal", "becomes") if name in one
    }  # fmt: skip
    return Question(**known)  # a tray that was read before a question had all of these is asked one by one


def answers(questions: Sequence[Mapping[str, Any]], given: Callable[[str], str]) -> dict[tuple, str]:
    """By path what was answered; ``given`` has the text of a field. What was left open is not in it."""
    found: dict[tuple, str] = {}
    for group in groups(questions):
        for_all = "" if group.single else _given(given, _field_of_all(group))
        for part in group.parts:
            own = _given(given, _field_of(part))
            said = (
                for_all
                if for_all and for_all == NOT_USED and group.kind in _TABLES
                else own or answer(part, for_all)
            )
            for one in part.members:
                alone = _given(given, field_of(one.path)) if _of_several(part) else ""
                if (alone or said) and said != ANY:
                    found[one.path] = alone or said
    return found


def _of_several(part: Part) -> bool:
    """Whether a line is of several columns or sheets, each of which may be another thing."""
    return len(part.members) > 1 and part.first.alike[0] in _BY_SHEET


def _field_of(part: Part) -> str:
    return field_of(("each", *(one.path for one in part.members))) if _of_several(part) else field_of(part.first.path)  # fmt: skip


def _given(given: Callable[[str], str], name: str) -> str:
    said, own = given(name).strip(), given(name + OWN).strip()
    said = own if own and said in ("", ANY) else said
    return "" if said == ANY else said


def _field_of_all(group: Together) -> str:
    return field_of(("all", *(part.first.path for part in group.parts)))


def form(questions: Sequence[Mapping[str, Any]], action: str, turn: int) -> Markup:
    again = {tuple(one["path"]): one["not_understood"] for one in questions if one["not_understood"]}
    boxes = [
        _alone(group.parts[0], again) if group.single else _box(group, again) for group in groups(questions)
    ]
    return Markup(
        '<form method="post" action="{}" class="questions" data-turn="{}"><input type="hidden" name="turn" value="{}">{}'
        '<p class="does stay"><button class="next">Go on</button> <span class="quiet">Answer what you know; the rest is asked again.</span></p></form>'
    ).format(action, turn, turn, frame.several(boxes))


def _alone(part: Part, again: Mapping[tuple, str]) -> Markup:
    one, name = replace(part.alone, options=part.first.options), _field_of(part)
    chosen = one.offer if not is_figure(one.path) else ""
    before = one.offer if one.offer and not chosen else ""
    parts = [
        _not_understood(again.get(one.path, "")),
        _shown(one.shown),
        Markup('<p class="quiet">It may be <b>{}</b>; choose it if that is right.</p>').format(before) if before else Markup(""),
        fields.offered(name, one.options, chosen, one.about),
        _sheet_by_sheet([part]),
    ]  # fmt: skip
    return _fieldset(name, one.about, one.asks, parts, one.path in again)


def _box(group: Together, again: Mapping[tuple, str]) -> Markup:
    """Several lines that one answer may hold for."""
    name, told = (
        _field_of_all(group),
        dict.fromkeys(again[one.path] for one in group.members if one.path in again),
    )
    parts = [_not_understood(said) for said in told]
    if group.kind in _TABLES:
        leave = Markup('<label class="all"><input type="checkbox" name="{}" value="{}"> None of these is used</label>').format(name, NOT_USED)  # fmt: skip
        parts += [_table(group), leave]
    else:
        shown = [part for part in group.parts if part.first.proposal or group.kind not in LISTS]
        open_ = group.without(shown)
        opened = any(one.path in again for one in group.members)
        arrow = Markup(" → <b>{}</b>")
        items = [Markup("<li>{}<b>{}</b> {}{}</li>").format(_head(group, part), part.name, part.seen, arrow.format(fields.word(part.told)) if group.kind in LISTS else "") for part in shown]  # fmt: skip
        if shown:
            parts += [
                Markup('<ul class="shown lines">{}</ul>').format(frame.several(items)),
                _shown(group.first.shown[:1]) if group.kind in BY_EXAMPLE else Markup(""),
                fields.confirmed(name, YES) if YES in group.words else fields.offered(name, group.words, "", group.asks),
                Markup("<details{}><summary>Each by itself</summary>{}</details>").format(Markup(" open") if opened else "", _table(group.without(open_.parts))),
            ]  # fmt: skip
        if open_.parts:
            parts += [Markup("<p>Choose for each of these:</p>") if shown else Markup(""), _table(open_)]
    parts.append(_sheet_by_sheet(group.parts))
    asks = f"is each of these what stands beside it?{group.nth}" if group.kind in _TABLES else group.asks
    return _fieldset(name, group.about, asks, parts, bool(told))


def _head(group: Together, part: Part) -> Markup:
    """The table or column that a line is of, where the box has several."""
    return Markup('<span class="quiet">{}</span> ').format(part.place) if len({one.place for one in group.parts}) > 1 else Markup("")  # fmt: skip


def _sheet_by_sheet(parts: Sequence[Part]) -> Markup:
    """Lines that are of several sheets, each sheet with a field of its own, which counts."""
    members = tuple(Part((one,), "") for part in parts if _of_several(part) for one in part.members)
    if not members:
        return Markup("")
    rows = frame.several(
        Markup("<tr><td></td><td><b>{}</b></td><td>{} {}</td><td>{}</td></tr>").format(one.name, one.place, one.seen, fields.chosen(field_of(one.first.path), one.first.options, "", f"{one.name}, {one.place}"))
        for one in members
    )  # fmt: skip
    return Markup(
        '<details><summary>One by one, where they are not alike</summary><div class="table"><table class="lines"><tbody>{}</tbody></table></div></details>'
    ).format(rows)


def _table(group: Together) -> Markup:
    heads = {tag: Markup('<tr><th colspan="4">{}</th></tr>').format(place) for tag, place in group.heads.items()}  # fmt: skip
    rows = frame.several(
        heads.get(part.tag, Markup("")) + Markup('<tr><td class="tag">{}</td><td><b>{}</b></td><td>{}</td><td>{}</td></tr>').format(
            part.tag, part.name, part.seen, fields.chosen(_field_of(part), part.first.options, _beforehand(part), part.name, _example(part))
        )
        for part in group.parts
    )  # fmt: skip
    return Markup('<div class="table"><table class="lines"><tbody>{}</tbody></table></div>').format(rows)


def _example(part: Part) -> str:
    return "0 to 10, 10 best" if part.first.alike[0] == SCALES else ""


def _beforehand(part: Part) -> str:
    return part.first.offer if not is_figure(part.first.path) and part.first.alike[0] in _TABLES else ""


def is_figure(path: Sequence[object]) -> bool:
    """Whether it is asked of how figures, days or names are meant."""
    return any(step in _NEVER_CHOSEN for step in path) or path[0] in _NAMES


def _fieldset(name: str, about: str, asks: str, parts: Sequence[Markup], again: bool) -> Markup:
    words = f"{about}: {asks}" if about else asks[0].upper() + asks[1:]
    return Markup('<fieldset id="{}"{}><legend>{}</legend>{}</fieldset>').format(
        name, Markup(' class="again"') if again else "", words, frame.several(parts)
    )


def _not_understood(said: str) -> Markup:
    return frame.said(f"“{said}” cannot be used here. Choose again, or write it as asked." if said else "")


def _shown(lines: Sequence[str]) -> Markup:
    if not lines:
        return Markup("")
    items = frame.several(Markup("<li>{}</li>").format(line.strip()) for line in lines)
    return Markup('<ul class="shown">{}</ul>').format(items)
