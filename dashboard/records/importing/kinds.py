"""The kinds of questions that one answer may hold for, what a list of each asks, and which comes first."""

from __future__ import annotations

from dataclasses import replace

from dashboard.records.importing.mapping import Question
from dashboard.records.importing.roles import NOT_USED

YES, ONE_BY_ONE = "yes", "one by one"
COLUMNS, READINGS, CLASSES = "columns", "readings", "classes"
NAMES, OWN_NAMES, SITES = "names", "own names", "sites"
SPREADS, SOLE_UNITS, SOLE_ORDERS = "spreads", "sole units", "sole orders"
# Each line of these lists has an answer of its own.
LISTS = (COLUMNS, READINGS, SPREADS, SOLE_UNITS, SOLE_ORDERS, CLASSES, NAMES, OWN_NAMES, SITES)
# Of these one list may hold several tables or columns, each of which has its name above its lines.
BY_PLACE = (COLUMNS, READINGS, CLASSES)
# What the first line of these would become shows what the others would.
BY_EXAMPLE = ("unit", "doubted", "decimals")
ASKS = {
    COLUMNS: "is what stands behind each arrow right?",
    READINGS: "is each of these words the reading behind the arrow?",
    SPREADS: "is each of these in the unit of its mean, which stands behind the arrow?",
    SOLE_ORDERS: "are these days with month and day in the order behind the arrow? Any other order leaves some that are none",
    SOLE_UNITS: "is each of these in the unit behind the arrow? In another most could be no fruit; sheets that differ are asked about after",
    CLASSES: "does each of these mean what stands behind the arrow?",
    NAMES: "does each of these stand for the name behind the arrow?",
    OWN_NAMES: "each stands often, and near another that does; is each a name of its own?",
    SITES: "is each of these the site behind the arrow?",
    "marks": "these stand where numbers do; what do they mean?",
    "words": "these stand where numbers do; what do they mean?",
    "doubted": "these stand apart from the other sheets, as another unit would put them; in which unit are they?",
    "idle": "some rows have a name and no reading; what do they mean?",
    "fixed": "no column of these sheets gives the {0}; which {0} is it for every row of them?",
    "headings": f"no row of headings was found on these; “{NOT_USED}” leaves all of them out",
}  # of other kinds all ask the same

# What comes first; of kinds that are not in it each comes before all of these.
ORDER = ("headings", COLUMNS, READINGS, SOLE_ORDERS, "order", "date_cells", "day_numbers", "year", "century", "weeks", "counted_from", SOLE_UNITS, "unit", SPREADS, "doubted", "scale", "behind", "decimals", "marks", "words", "forms", "zero", "codes", "share_of", "row_is", "counts", CLASSES, "empty", "idle", "fixed", "", NAMES, OWN_NAMES, SITES)  # fmt: skip


def to_confirm(question: Question, kind: str, answer: str) -> Question:
    """The question with the one answer that is likely, as a line of a list of its kind."""
    return replace(question, alike=(kind,), offer=answer, proposal=answer)


def kind_of(one: Question) -> str:
    return one.alike[0] if one.alike else ""


def place_of(one: Question) -> str:
    """The table or column that a line of it is of."""
    return one.alike[1] if kind_of(one) in BY_PLACE else ""
