"""``orchard-slate import``: its options, and the questions on a terminal."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dashboard.records.importing.mapping import Question

LATER, HELP = "later", "?"
_HOW = (
    f"Type a word or its number; Enter takes what stands in brackets; “{LATER}” keeps your answers and stops."
)
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
_NUMBERED = 12  # words from which on they are not numbered but typed


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    parser.add_argument(
        "files", metavar="FILE", nargs="+", help="workbooks (.xlsx) and text files (.csv, .txt)"
    )
    parser.add_argument(
        "--into", metavar="TRIAL", required=True, help="the folder of the trial, there already or new"
    )
    parser.add_argument(
        "--answers", metavar="mapping.toml", help="answers in a file; asks nothing (default: TRIAL/importing/mapping.toml, and asks)"
    )  # fmt: skip


def run(options: argparse.Namespace) -> int:
    """0 where every cell was read, 1 where something was set aside or is to be answered."""
    from dashboard.places import somebody, unwritten
    from dashboard.records.importing.incoming import bring_in

    asks = None if options.answers or not sys.stdin.isatty() else asked
    try:
        outcome = bring_in(
            [Path(file) for file in options.files],
            Path(options.into),
            Path(options.answers) if options.answers else None,
            asks,
            who=somebody(),
        )
    except OSError as fault:
        print(unwritten(Path(fault.filename or options.into), fault), file=sys.stderr)
        return 1
    print(outcome.text)
    return outcome.code


def asked(question: Question) -> str | None:
    """The answer of whoever sits at the terminal; None where they want to go on later."""
    from dashboard.records.importing.mapping import ANY

    print(f"\n{question.about}: {question.asks}")
    print("\n".join(question.shown))
    options = [word for word in question.options if word != ANY]
    if 0 < len(options) <= _NUMBERED:
        print("\n".join(f"  {number}. {word}" for number, word in enumerate(options, 1)))
    elif options:
        print(f"  one of: {', '.join(options)}")
    if ANY in question.options:
        print(f"  or {ANY}")
    offer = f" [{question.offer}]" if question.offer else ""
    while True:
        try:
            said = input(f"your answer, or “{LATER}”{offer}: ").strip() or question.offer
        except (EOFError, KeyboardInterrupt):
            return None
        if said == LATER:
            return None
        if said.isdigit() and 0 < int(said) <= len(options) <= _NUMBERED and said not in options:
            said = options[int(said) - 1]
        if said == HELP:
            print(_HELPS.get(str(question.path[-1]), "") + _HOW)
            continue
        said = question.meant(said)
        if question.takes(said):
            return said
        reason = "Type one of these words, or its number." if options else "Type an answer of that form."
        print(question.refuses(said) or f"{reason} {HELP} tells more.")
