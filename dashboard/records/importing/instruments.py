"""What a new trial declares once: how its instruments read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dashboard.records.brix_at_20 import ITEM, NOT_KNOWN, ZEROS, in_each
from dashboard.records.declaration import Declaration
from dashboard.records.importing.layouts import FIGURES, Layout, role_of
from dashboard.records.importing.mapping import Answers, Question
from dashboard.records.importing.roles import ROLES
from dashboard.records.importing.trial import Trial

# What a tip of so many inches is called in mm (common practice, no source).
_OF_INCHES = {"5/16": 8.0, "7/16": 11.0}


def of_the_trial(trial: Trial, shapes: Sequence[Layout], answers: Answers) -> list[Question]:
    """What a new trial declares once: how the instruments read."""
    if not trial.new or trial.said:
        return []
    roles = {role_of(layout, label, answers)[0] for layout in shapes for label in layout.headings}
    asked = []
    if FIGURES in roles or any(name in ROLES and ROLES[name].column.quantity == "force" for name in roles):
        asked.append(Question(("trial", "tip_mm"), "firmness was read with a tip of how many mm? 8 is 5/16 in", about="penetrometer", may=_tip))  # fmt: skip
    if FIGURES in roles or any(name in ROLES and ROLES[name].column.quantity == "sugar" for name in roles):
        asked.append(Question(("trial", "temperature_compensated"), "does it correct for temperature?", ("yes", "no"), about="refractometer"))  # fmt: skip
        if answers.at(("trial", "temperature_compensated")) == "no":
            asked.append(
                Question(
                    ("trial", ITEM),
                    "how was its zero set?",
                    ZEROS,
                    (f"  {in_each()}",),
                    about="refractometer",
                )
            )
    return [question for question in asked if not question.takes(answers.at(question.path))]


def tip_of(said: object) -> float | None:
    """The tip in mm, as it is called: 8, 8 mm, or 5/16 in, which is called 8 mm; None where it is no tip."""
    text = str(said).casefold().replace("mm", "").strip()
    inches = text.removesuffix("in").removesuffix('"').strip()
    try:
        mm = _OF_INCHES[inches] if inches in _OF_INCHES else float(text)
    except ValueError:
        return None
    return mm if 1 <= mm <= 30 else None


def _tip(said: str) -> bool:
    return tip_of(said) is not None


def declared_of(trial: Trial, answers: Answers) -> Declaration:
    """The declaration of the trial, of a new one with what was answered."""
    if not trial.new or trial.said:
        return trial.declaration
    tip, compensated = answers.at(("trial", "tip_mm")), answers.at(("trial", "temperature_compensated"))
    return replace(
        trial.declaration,
        tip_mm=tip_of(tip) or trial.declaration.tip_mm if tip is not None else trial.declaration.tip_mm,
        temperature_compensated=compensated != "no",
        refractometer_zero=str(answers.at(("trial", ITEM)) or NOT_KNOWN),
    )
