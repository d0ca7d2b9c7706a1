"""The fields of a question: buttons where the words are few, else a list under what they are of, and a place for another word."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from dashboard.records.importing.mapping import ANY
from dashboard.records.importing.roles import by_kind
from dashboard.serving.bringing import frame

PRESSED = 8  # words that stand side by side; more are a list to choose from
# What stands beside a button where the word alone does not say it.
MEANT = {
    "ssc": "sugar (ssc)", "firmness 1": "firmness 1 (one cheek)", "firmness 2": "firmness 2 (the other cheek)",
    "nothing": "nothing was measured", "aside": "set it aside", "a reading": "a reading: it counts",
    "n": "newtons (N)", "lbf": "pounds (lb)", "kgf": "kilograms (kg)", "in": "inches",
}  # fmt: skip
OWN = "another"  # the field beside one whose answer may be another word


def word(said: str) -> str:
    return MEANT.get(said, said)


def confirmed(name: str, said: str) -> Markup:
    """A button for all lines of a list as they are shown."""
    return Markup('<div class="choices"><label><input type="radio" name="{0}" value="{1}"> {1}, each as shown</label></div>').format(name, said)  # fmt: skip


def offered(name: str, options: Sequence[str], chosen: str, about: str) -> Markup:
    """The words of one question, and a field where another may be written."""
    words = [one for one in options if one != ANY]
    own = _own(name, "" if words else chosen, words, about) if not options or ANY in options else Markup("")
    if not words:
        return Markup('<div class="choices">{}</div>').format(own)
    if len(words) <= PRESSED:
        pressed = frame.several(
            Markup('<label><input type="radio" name="{}" value="{}"{}> {}</label>').format(name, one, Markup(" checked") if one == chosen else "", word(one))
            for one in words
        )  # fmt: skip
        return Markup('<div class="choices">{}{}</div>').format(pressed, own)
    listed = Markup("<label>Choose {}</label>").format(_select(name, words, chosen, ""))
    return Markup('<div class="choices">{}{}</div>').format(listed, own)


def chosen(name: str, options: Sequence[str], chosen: str, about: str, example: str = "") -> Markup:
    """The words of one line of a table, and a field where another may be written, with an ``example`` in it."""
    words = [one for one in options if one != ANY]
    free = not options or ANY in options
    hint = example or ("another" if words else "")
    other = Markup('<input name="{}" value="" maxlength="200" aria-label="{}"{}>').format(
        name + OWN, f"{about}: another answer" if words else f"{about}: your answer", Markup(' placeholder="{}"').format(hint) if hint else ""
    )  # fmt: skip
    listed = _select(name, words, chosen, about) if words else Markup("")
    return listed + (other if free else Markup(""))


def _select(name: str, words: Sequence[str], chosen: str, label: str) -> Markup:
    def option(one: str) -> Markup:
        return Markup("<option value='{}'{}>{}</option>").format(one, Markup(" selected") if one == chosen else "", word(one) or "choose")  # fmt: skip

    kinds = by_kind(words)
    if len(words) > PRESSED and len(kinds) > 1:
        listed = frame.several(Markup("<optgroup label='{}'>{}</optgroup>").format(kind, frame.several(map(option, some))) for kind, some in kinds.items())  # fmt: skip
    else:
        listed = frame.several(map(option, words))
    aria = Markup(" aria-label='{}'").format(label) if label else ""
    return Markup('<select name="{}"{}>{}{}</select>').format(name, aria, option(""), listed)


def _own(name: str, chosen: str, options: Sequence[str], about: str) -> Markup:
    """A field for an answer that is none of the words; what is written in it counts."""
    other = Markup('<input type="radio" name="{}" value="{}"> another: ').format(name, ANY) if 0 < len(options) <= PRESSED else Markup("")  # fmt: skip
    words = other or ("or another: " if options else "Your answer ")
    label = Markup("<label>{}").format(words) if not other else Markup("<label>{}</label><label>").format(other)  # fmt: skip
    return Markup('{}<input name="{}" value="{}" maxlength="200" aria-label="{}"></label>').format(
        label, name + OWN, chosen, f"{about}: another answer" if options else f"{about}: your answer"
    )
