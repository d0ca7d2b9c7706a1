"""Questions as a form, and a form as answers. Each question is known by a hash of its path, so that an old form answers nothing else."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from dashboard.records.importing.mapping import ANY
from dashboard.serving.bringing import frame

PRESSED = 8  # words that stand side by side; more are a list to choose from
# Where a wrong answer changes figures without a sign, nothing is chosen beforehand: what was said last time stands beside it.
_NEVER_CHOSEN = ("unit", "scale", "order", "year", "century", "zero", "decimals", "date_cells", "day_numbers")
_NAMES = ("cultivars", "sites", "months")
OWN = "another"  # the field beside one whose answer may be another word


def field_of(path: Sequence[object]) -> str:
    return "q" + hashlib.sha256(json.dumps(list(path), ensure_ascii=False).encode()).hexdigest()[:20]


def answers(questions: Sequence[Mapping[str, Any]], given: Callable[[str], str]) -> dict[tuple, str]:
    """By path what was answered; ``given`` has the text of a field. What was left open is not in it."""
    found: dict[tuple, str] = {}
    for one in questions:
        name = field_of(one["path"])
        said, own = given(name).strip(), given(name + OWN).strip()
        if own and said in ("", ANY):
            said = own
        if said and said != ANY:
            found[tuple(one["path"])] = said
    return found


def form(questions: Sequence[Mapping[str, Any]], action: str, turn: int) -> Markup:
    return Markup(
        '<form method="post" action="{}" class="questions" data-turn="{}"><input type="hidden" name="turn" value="{}">{}'
        '<p class="does stay"><button class="next">Go on</button> <span class="quiet">Answer what you know; the rest is asked again.</span></p></form>'
    ).format(action, turn, turn, frame.several(map(_question, questions)))


def _question(one: Mapping[str, Any]) -> Markup:
    name, options = field_of(one["path"]), [word for word in one["options"] if word != ANY]
    free = not one["options"] or ANY in one["options"]
    again = one["not_understood"]
    chosen = one["offer"] if not is_figure(one["path"]) else ""
    before = one["offer"] if one["offer"] and not chosen else ""
    parts = [
        frame.said(f"“{again}” cannot be used here. Choose again, or write it as asked." if again else ""),
        _shown(one["shown"]),
        _offered(name, options, chosen, free),
        _own(name, chosen if not options else "", bool(options), one) if free else Markup(""),
        Markup('<p class="quiet">Last time, or by its look: <b>{}</b>.</p>').format(before)
        if before
        else Markup(""),
    ]
    return Markup('<fieldset id="{}"{}><legend>{}{}</legend>{}</fieldset>').format(
        name, Markup(' class="again"') if again else "", f"{one['about']}: " if one["about"] else "", one["asks"], frame.several(parts)
    )  # fmt: skip


def is_figure(path: Sequence[object]) -> bool:
    """Whether it is asked of how figures, days or names are meant."""
    return any(step in _NEVER_CHOSEN for step in path) or path[0] in _NAMES


def _shown(lines: Sequence[str]) -> Markup:
    if not lines:
        return Markup("")
    items = frame.several(Markup("<li>{}</li>").format(line.strip()) for line in lines)
    return Markup('<ul class="shown">{}</ul>').format(items)


def _offered(name: str, options: Sequence[str], chosen: str, free: bool) -> Markup:
    if not options:
        return Markup("")
    if len(options) <= PRESSED:
        words = [*options, *([ANY] if free else [])]
        return Markup('<div class="choices">{}</div>').format(frame.several(
            Markup('<label><input type="radio" name="{}" value="{}"{}> {}</label>').format(name, word, Markup(" checked") if word == chosen else "", word)
            for word in words
        ))  # fmt: skip
    choices = frame.several(
        Markup("<option value='{}'{}>{}</option>").format(word, Markup(" selected") if word == chosen else "", word or "choose")
        for word in ("", *options)
    )  # fmt: skip
    return Markup('<label>Choose <select name="{}">{}</select></label>').format(name, choices)


def _own(name: str, chosen: str, beside: bool, one: Mapping[str, Any]) -> Markup:
    words = "or write another value" if beside else "Your answer"
    return Markup('<p><label>{} <input name="{}" value="{}" maxlength="200"></label></p>').format(
        words, name + OWN, chosen
    )
