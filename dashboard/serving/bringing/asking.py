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
# What stands beside a button where the word alone does not say it.
MEANT = {
    "ssc": "sugar (ssc)", "firmness 1": "firmness 1 (one cheek)", "firmness 2": "firmness 2 (the other cheek)",
    "nothing": "nothing was measured", "aside": "set it aside", "a reading": "a reading: it counts",
}  # fmt: skip
OWN = "another"  # the field beside one whose answer may be another word


def field_of(path: Sequence[object]) -> str:
    return "q" + hashlib.sha256(json.dumps(list(path), ensure_ascii=False).encode()).hexdigest()[:20]


def answers(questions: Sequence[Mapping[str, Any]], given: Callable[[str], str]) -> dict[tuple, str]:
    """By path what was answered; ``given`` has the text of a field. What was left open is not in it."""
    found: dict[tuple, str] = {}
    for one in questions:
        name = field_of(one["path"])
        said, own = given(name).strip(), given(name + OWN).strip()
        said = own if own and said in ("", ANY) else said
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
    own = _own(name, "" if options else chosen, options, one["about"]) if free else Markup("")
    parts = [
        frame.said(f"“{again}” cannot be used here. Choose again, or write it as asked." if again else ""),
        _shown(one["shown"]),
        Markup('<p class="quiet">It may be <b>{}</b>; choose it if that is right.</p>').format(before) if before else Markup(""),
        _offered(name, options, chosen, own),
    ]  # fmt: skip
    about = f"{one['about']}: " if one["about"] else ""
    return Markup('<fieldset id="{}"{}><legend>{}{}</legend>{}</fieldset>').format(
        name, Markup(' class="again"') if again else "", about, one["asks"], frame.several(parts)
    )


def is_figure(path: Sequence[object]) -> bool:
    """Whether it is asked of how figures, days or names are meant."""
    return any(step in _NEVER_CHOSEN for step in path) or path[0] in _NAMES


def _shown(lines: Sequence[str]) -> Markup:
    if not lines:
        return Markup("")
    items = frame.several(Markup("<li>{}</li>").format(line.strip()) for line in lines)
    return Markup('<ul class="shown">{}</ul>').format(items)


def _offered(name: str, options: Sequence[str], chosen: str, own: Markup) -> Markup:
    if not options:
        return own
    if len(options) <= PRESSED:
        pressed = frame.several(
            Markup('<label><input type="radio" name="{}" value="{}"{}> {}</label>').format(name, word, Markup(" checked") if word == chosen else "", _word(word))
            for word in options
        )  # fmt: skip
        return Markup('<div class="choices">{}{}</div>').format(pressed, own)
    choices = frame.several(
        Markup("<option value='{}'{}>{}</option>").format(word, Markup(" selected") if word == chosen else "", _word(word) or "choose")
        for word in ("", *options)
    )  # fmt: skip
    return Markup('<div class="choices"><label>Choose <select name="{}">{}</select></label>{}</div>').format(
        name, choices, own
    )


def _word(word: str) -> str:
    return MEANT.get(word, word)


def _own(name: str, chosen: str, options: Sequence[str], about: str) -> Markup:
    """A field for an answer that is none of the words; what is written in it counts."""
    other = Markup('<input type="radio" name="{}" value="{}"> another: ').format(name, ANY) if 0 < len(options) <= PRESSED else Markup("")  # fmt: skip
    words = other or ("or another: " if options else "Your answer ")
    label = Markup("<label>{}").format(words) if not other else Markup("<label>{}</label><label>").format(other)  # fmt: skip
    return Markup('{}<input name="{}" value="{}" maxlength="200" aria-label="{}"></label>').format(
        label, name + OWN, chosen, f"{about}: another answer" if options else f"{about}: your answer"
    )
