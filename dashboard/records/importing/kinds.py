"""The kinds of questions that one answer may hold for, what a list of each asks, and which comes first."""

from __future__ import annotations

from dataclasses import replace

from dashboard.records.importing.mapping import Question
from dashboard.records.importing.roles import NOT_USED

YES, ONE_BY_ONE = "yes", "one by one"
COLUMNS, READINGS, CLASSES = "columns", "readings", "classes"
NAMES, OWN_NAMES, SITES = "names", "own names", "sites"
DAYS, UNITS, DOUBTED, SCALES, DECIMALS = "days", "units", "doubted", "scale", "decimals"
# Each line of these lists has an answer of its own.
LISTS = (COLUMNS, READINGS, DAYS, UNITS, DOUBTED, SCALES, CLASSES, NAMES, OWN_NAMES, SITES)
# Of these one list may hold several tables or columns, each of which has its name above its lines.
BY_PLACE = (COLUMNS, READINGS, UNITS, DOUBTED, SCALES, DECIMALS, CLASSES)
# What the first line of these would become shows what the others would.
BY_EXAMPLE = (DECIMALS,)
SCALE_WRITTEN = "LOW to HIGH, BEST best, for example 0 to 10, 10 best"
ASKS = {
    COLUMNS: "is what stands behind each arrow right?",
    READINGS: "is each of these words the reading behind the arrow?",
    DAYS: "is each of these the day behind the arrow?",
    UNITS: "is each of these in the unit behind the arrow?",
    DOUBTED: "these stand apart from the other sheets, as another unit would put them; in which unit are they?",
    SCALES: f"on which scale? {SCALE_WRITTEN}",
    CLASSES: "does each of these mean what stands behind the arrow?",
    NAMES: "does each of these stand for the name behind the arrow?",
    OWN_NAMES: "each stands often, and near another that does; is each a name of its own?",
    SITES: "is each of these the site behind the arrow?",
    "marks": "these stand where numbers do; what do they mean?",
    "words": "these stand where numbers do; what do they mean?",
    "idle": "some rows have a name and no reading; what do they mean?",
    "fixed": "no column of these sheets gives the {0}; which {0} is it for every row of them?",
    "headings": f"no row of headings was found on these; “{NOT_USED}” leaves all of them out",
}  # of other kinds all ask the same

# What comes first; of kinds that are not in it each comes before all of these.
ORDER = ("headings", COLUMNS, READINGS, DAYS, "order", "date_cells", "day_numbers", "year", "century", "weeks", "counted_from", UNITS, DOUBTED, SCALES, "behind", DECIMALS, "marks", "words", "forms", "zero", "codes", "share_of", "row_is", "counts", CLASSES, "empty", "idle", "fixed", "", NAMES, OWN_NAMES, SITES)  # fmt: skip


def to_confirm(question: Question, answer: str, becomes: str = "") -> Question:
    """The question with the one answer that is likely, as a line of a list, and what it makes of the cells."""
    return replace(question, offer=answer, proposal=answer, becomes=becomes)


def kind_of(one: Question) -> str:
    return one.alike[0] if one.alike else ""


def place_of(one: Question) -> str:
    """The table or column that a line of it is of."""
    return one.alike[1] if kind_of(one) in BY_PLACE else ""
