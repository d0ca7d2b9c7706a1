"""Which fruit were sampled, beside size and among what figures stand on."""

from __future__ import annotations

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import Question
from dashboard.records.taken import Taken
from dashboard.terms.traits import trait_called


def how_taken(catalogue: Catalogue) -> Taken:
    """As the samples say; all fruit alike where they say nothing."""
    frame = catalogue.summaries
    if "size_taken" not in frame or not len(frame):
        return Taken()
    floor = frame["size_floor"].iloc[0]
    return Taken(str(frame["size_taken"].iloc[0]), float(floor) if floor == floor else None)


def trait_heading(asked: Question, key: str) -> str:
    """Label and unit of a trait, and of size what of the fruit it is of."""
    mark = how_taken(asked.catalogue).mark if key == "size" else ""
    return ", ".join(filter(None, [trait_called(key).heading(asked.units), mark]))
