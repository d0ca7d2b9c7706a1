"""The questions on a terminal: one by itself, or a list of which all is confirmed at once and single lines are asked about alone."""

from __future__ import annotations

import re

from dashboard.records.importing.kinds import BY_EXAMPLE, COLUMNS, LISTS, ONE_BY_ONE, SCALES, YES
from dashboard.records.importing.mapping import ANY, Question
from dashboard.records.importing.roles import NOT_USED, by_kind
from dashboard.records.importing.together import Part, Put, Together, answer, put_all
from dashboard.records.problems import quoted

LATER, HELP = "later", "?"
_HOW = (
    f"Type a word or its number; Enter takes what stands in brackets; “{LATER}” keeps your answers and stops."
)
_BEGIN = f"Type a word or its number; {HELP} helps; “{LATER}” keeps your answers and stops."
_FEW = 6  # lines of a list that are shown anew when some of it were answered
_HELPS = {
    "is": "Say what stands in this column; “not used” leaves it out. ",
    "unit": "Say in which unit these were read; behind the arrow stands what they would become. ",
    "order": "Say whether the month or the day stands first; behind the arrow stands what they would become. ",
    "scale": "Say the lowest and the highest rating, and which of them is best. ",
    "empty": "“as above” takes what stands in the row above; “set aside” reads none of these rows. ",
    "zero": "A reading counts in the mean; nothing leaves the cell empty. ",
    "year": "Type the year, or say that the name of the sheet or file has it. ",
    "rows_without_readings": "“nothing was picked” leaves these rows out; “set aside” keeps them in a sheet to look at. ",
}  # by the last step of where the answer stands
_BETWEEN = r"[,;]"  # D=site, B=date, yes
_BETWEEN_SCALES = r"[,;]\s*(?=\w+\s*=)"  # each has a comma of its own
_NUMBERED = 12  # words from which on they are not numbered but typed
_WIDE = 34  # letters of a name or of cells in a list


class AtTerminal:
    """``asked_together`` for one import: before the first question it says how to answer."""

    def __init__(self) -> None:
        self.begun = False

    def __call__(self, group: Together, put: Put) -> bool:
        if not self.begun:
            print(_BEGIN)
        self.begun = True
        return asked_together(group, put)


def asked(question: Question) -> str | None:
    """The answer of whoever sits at the terminal; None where they want to go on later."""
    print(f"\n{question.about}: {question.asks}")
    print("\n".join(question.shown))
    options = [word for word in question.options if word != ANY]
    _print_options(options, ANY in question.options, question.numbered)
    offer = f" [{question.offer}]" if question.offer else ""
    while True:
        said = _typed(f"your answer{offer}: ", question.offer)
        if said is None:
            return None
        said = _of_number(said, options, question.numbered)
        if said == HELP:
            print(_HELPS.get(str(question.path[-1]), "") + _HOW)
            continue
        said = question.meant(said)
        if question.takes(said):
            return said
        by_number = ", or its number" if question.numbered else ""
        reason = (
            f"Type one of these words{by_number}."
            if options
            else f"It cannot be {quoted(said)}: {question.asks}"
        )
        print(question.refuses(said) or f"{reason} {HELP} tells more.")


def asked_together(group: Together, put: Put) -> bool:
    """Ask for one answer for all lines; whether to go on. A line that is another thing is asked about by itself."""
    if group.single:
        return _asked_alone(group.parts[0], put)
    print(f"\n{group.about}: {group.asks}" if group.about else f"\n{group.asks[0].upper()}{group.asks[1:]}")
    left = group
    while left.parts:
        if left is group or len(left.parts) <= _FEW:
            _print_lines(left)
        else:
            print(f"{len(left.parts)} lines are left.")
        options = [word for word in left.words if word != ANY]
        numbered = all(part.first.numbered for part in left.parts)
        if left.kind in BY_EXAMPLE and left.first.shown:
            print(left.first.shown[0])
        if left.kind not in LISTS:
            _print_options(options, ANY in left.words, numbered)
        said = _typed(f"{_prompt(left)}: ", "")
        if said is None:
            return False
        if left.kind not in LISTS:
            said = _of_number(said, options, numbered)
        if said == HELP:
            print(_help(left))
        elif left.meant(said) == ONE_BY_ONE:
            return all(_asked_alone(part, put) for part in left.parts)
        elif left.meant(said) not in options and (pairs := _given(left, said)) is not None:
            for part, word in pairs:
                if word == ONE_BY_ONE:
                    if not all(_asked_alone(Part((one,), part.tag), put) for one in part.members):
                        return False
                    left = left.without([part])
                elif word and (why := put_all(part, part.first.meant(word), put)):
                    print(why)
                elif not word and not _asked_alone(part, put):
                    return False
                else:
                    left = left.without([part])
        elif left.takes(word := left.meant(said)):
            confirmed = [part for part in left.parts if answer(part, word)]
            for part in confirmed:
                if put_all(part, answer(part, word), put) and not _asked_alone(part, put):
                    return False
            left = left.without(confirmed)
        else:
            print(f"This is none of it. {_help(left)}")
    return True


def _asked_alone(part: Part, put: Put) -> bool:
    while True:
        said = asked(part.alone)
        if said == ONE_BY_ONE and len(part.members) > 1:
            return all(_asked_alone(Part((one,), part.tag), put) for one in part.members)
        if said is None or not (why := put_all(part, said, put)):
            return said is not None
        print(why)


def _typed(prompt: str, offer: str) -> str | None:
    try:
        said = input(prompt).strip() or offer
    except (EOFError, KeyboardInterrupt):
        return None
    return None if said == LATER else said


def _given(group: Together, said: str) -> list[tuple[Part, str]] | None:
    """The lines that are named: F and G alone, or D=not used, B=site, of a list also with “yes” for all others that are shown; None where
    something else was typed."""
    tags = {part.tag.casefold(): part for part in group.parts}
    found: list[tuple[Part, str]] = []
    if "=" in said:
        others = False
        for one in re.split(_BETWEEN_SCALES if group.kind == SCALES else _BETWEEN, said):
            tag, _, word = one.partition("=")
            if one.strip().casefold() == YES and YES in group.words:
                others = True
                continue
            if tag.strip().casefold() not in tags or not word.strip():
                return None
            found.append((tags[tag.strip().casefold()], word.strip()))
        shown = [part for part in group.parts if part.first.proposal] if others else []
        answered = {part.tag for part, _ in found}
        return [*((part, part.first.proposal) for part in shown if part.tag not in answered), *found]
    named = re.split(r"[\s,;]+", said.casefold())
    return [(tags[tag], "") for tag in named] if all(tag in tags for tag in named) else None


def _prompt(group: Together) -> str:
    """What may be typed; of a list with lines that have no answer yet how these are answered with “yes” for the others."""
    if group.kind not in LISTS:
        return f"your answer for all, or {group.parts[0].tag}=ANSWER"
    open_ = [part.tag for part in group.parts if not part.first.proposal]
    if not open_:
        return f"“{YES}” for all, or {group.parts[0].tag}=ANSWER"
    others = f"{YES}, " if YES in group.words else ""
    more = f", {open_[1]}=…" if len(open_) > 1 else ""
    return f"“{others}{open_[0]}=ANSWER{more}”"


def _help(group: Together) -> str:
    some = group.parts[0].tag
    every = all(part.first.proposal for part in group.parts)
    ways = {YES: f"“{YES}” takes all {'as shown' if every else 'that have an answer behind the arrow'}", NOT_USED: f"“{NOT_USED}” leaves all of them out"}  # fmt: skip
    said = [ways[word] for word in group.words if word in ways]
    one = f"{some}={NOT_USED}" if group.kind == COLUMNS else f"{some}=ANSWER"
    ways_of_one = f"{some} asks about that line alone. {one} answers it at once, and more after a comma."
    return f"{'; '.join(said)}{'. ' if said else ''}{ways_of_one} “{ONE_BY_ONE}” asks about each. “{LATER}” keeps your answers and stops."


def _print_lines(group: Together) -> None:
    lines = [(part.tag, part.name, part.seen, part.told) for part in group.parts]
    heads = group.heads
    places = {line[1].partition(", ")[2] for line in lines}
    if len(lines) > 1 and not heads and len(places) == 1 and (place := places.pop()):
        print(f"  {place}:")  # it is the same of all
        lines = [(line[0], line[1].removesuffix(f", {place}"), *line[2:]) for line in lines]
    tag, name, seen = (min(_WIDE if at else 9, max(len(line[at]) for line in lines)) for at in range(3))
    for line in lines:
        if line[0] in heads:
            print(f"  {heads[line[0]]}:")
        arrow = f" → {line[3] or '?'}" if group.kind in LISTS else ""
        print(f"  {line[0]:<{tag}}  {line[1]:<{name}}  {line[2]:<{seen}}{arrow}".rstrip())


def _of_number(said: str, options: list[str], numbered: bool) -> str:
    """The word that a number stands for, where words have numbers; else what was typed."""
    if numbered and said.isdigit() and 0 < int(said) <= len(options) <= _NUMBERED and said not in options:
        return options[int(said) - 1]
    return said


def _print_options(options: list[str], more: bool, numbered: bool) -> None:
    if 0 < len(options) <= _NUMBERED:
        marks = (f"{number}." if numbered else "-" for number in range(1, len(options) + 1))
        print("\n".join(f"  {mark} {word}" for mark, word in zip(marks, options, strict=True)))
    elif options:
        print("\n".join(f"  {kind}: {', '.join(words)}" for kind, words in by_kind(options).items()))
    if more:
        print("  or another")
