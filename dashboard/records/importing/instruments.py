"""What a trial declares once, before the first reading of an instrument comes into it: how that instrument reads."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

from dashboard.records.brix_at_20 import ITEM, NOT_KNOWN, ZEROS, in_each
from dashboard.records.declaration import Declaration
from dashboard.records.descriptor import about
from dashboard.records.importing.layouts import FIGURES, Layout, role_of
from dashboard.records.importing.mapping import Answers, Question
from dashboard.records.importing.roles import ROLES
from dashboard.records.importing.trial import Trial
from dashboard.records.schema import TABLES
from dashboard.records.sources import DECLARATION

FORCE, SUGAR = "force", "sugar"
_ITEMS = ("tip_mm", "temperature_compensated", ITEM)
# What a tip of so many inches is called in mm (common practice, no source).
_OF_INCHES = {"5/16": 8.0, "7/16": 11.0}


def of_the_trial(trial: Trial, shapes: Sequence[Layout], answers: Answers) -> list[Question]:
    """How the instruments read of which these are the first readings; what the trial declares of them is offered."""
    roles = {role_of(layout, label, answers)[0] for layout in shapes for label in layout.headings}
    come = {ROLES[name].column.quantity for name in roles if name in ROLES} | ({FORCE, SUGAR} if FIGURES in roles else set())  # fmt: skip
    asked = []
    declared = trial.declaration
    if FORCE in come and _first(trial, FORCE):
        offer = "" if trial.new else f"{declared.tip_mm:g}"
        asked.append(Question(("trial", "tip_mm"), "firmness was read with a tip of how many mm? 8 is 5/16 in", offer=offer, about="penetrometer", may=_tip))  # fmt: skip
    if SUGAR in come and _first(trial, SUGAR):
        offer = "" if trial.new else "yes" if declared.temperature_compensated else "no"
        asked.append(Question(("trial", "temperature_compensated"), "does it correct for temperature?", ("yes", "no"), offer=offer, about="refractometer"))  # fmt: skip
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


def _first(trial: Trial, quantity: str) -> bool:
    """Whether no reading of this kind stands in the trial yet, so that what it declares may be what nobody has said."""
    if trial.said or (not trial.new and not (trial.folder / DECLARATION).exists()):
        return False
    for name in ("fruit", "means"):
        frame = trial.frames.get(name)
        held = [column.name for column in TABLES[name].columns if column.quantity == quantity]
        if frame is not None and frame[[one for one in held if one in frame]].notna().any(axis=None):
            return False
    return True


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
    """The declaration of the trial, with what was answered of instruments whose first readings these are."""
    found = trial.declaration
    tip, compensated = answers.at(("trial", "tip_mm")), answers.at(("trial", "temperature_compensated"))
    if _first(trial, FORCE) and tip is not None:
        found = replace(found, tip_mm=tip_of(tip) or found.tip_mm)
    if _first(trial, SUGAR) and compensated is not None:
        zero = str(answers.at(("trial", ITEM)) or NOT_KNOWN)
        found = replace(found, temperature_compensated=compensated != "no", refractometer_zero=zero)
    return found


def declared_anew(trial: Trial, declaration: Declaration) -> dict[str, bytes]:
    """By name the file of a trial that stands already, where it declares its instruments otherwise now."""
    said, before = about(declaration), about(trial.declaration)
    if trial.new or all(said.get(item) == before.get(item) for item in _ITEMS):
        return {}
    package = json.loads((trial.folder / DECLARATION).read_text(encoding="utf-8-sig"))
    own = package.setdefault("orchard_slate", {})
    own |= {item: said[item] for item in _ITEMS if item in said}
    return {DECLARATION: (json.dumps(package, indent=2, ensure_ascii=False) + "\n").encode("utf-8")}
