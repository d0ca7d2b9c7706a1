"""Words of the trade and of the page, each in one or two plain sentences: for paper, for tips and for docs/glossary.md.

``python -m dashboard.terms.glossary docs/glossary.md`` writes that document.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

PRACTICE = "common practice, no source"
OURS = "a choice of ours"


@dataclass(frozen=True)
class Term:
    """``source`` where the meaning holds a fact or a choice that somebody might ask about."""

    name: str
    meaning: str
    source: str = ""


TERMS = (
    Term(
        "acidity class",
        "Normal or low. Low-acid fruit tastes mild even while firm; normal fruit tastes sharper until soft.",
        PRACTICE,
    ),
    Term(
        "adjusted for site and year",
        "What a cultivar would give on average at sites and in years like those on record. What a good year, a good site or luck did is taken out as far as the records show it.",
    ),
    Term(
        "at equal firmness",
        "Size and sugar worked out as if all fruit had been picked equally firm. A cultivar that is firm by nature then stands as if picked riper than is usual for it, a soft one as if picked firmer.",
    ),
    Term(
        "chance that all limits hold",
        "How likely it is that a cultivar clears every limit of the market in the long run. All doubt in its figures counts.",
    ),
    Term(
        "check cultivar",
        "A well-known cultivar that stands at every site each season, to set others beside.",
        PRACTICE,
    ),
    Term(
        "cheek difference",
        "How far the two sides of one fruit differ in firmness. When they differ much, the fruit ripens unevenly.",
        PRACTICE,
    ),
    Term(
        "chill",
        "The winter cold a tree needs before it blooms well, in hours of cold or in portions. What is recorded is a guide, not a promise.",
        PRACTICE,
    ),
    Term(
        "chill hour",
        "An hour between 32 and 45 °F in winter. Colder and warmer hours count nothing.",
        "Weinberger (1950)",
    ),
    Term(
        "chill portion",
        "A piece of winter chill that is safe once it is made. Cold hours make it; a warm spell undoes what is not yet a whole piece.",
        "Fishman, Erez & Couvillon (1987)",
    ),
    Term("class limit", "A limit on the kind of fruit: fruit type, flesh color, acidity class, shape or pit."),
    Term(
        "cover",
        "The chance, day by day, that at least one cultivar of a set is being picked, or as many as you ask for. Only fruit that the market takes, or may take, counts.",
    ),
    Term(
        "cultivar",
        "A kind of peach or nectarine that is propagated true by budding, known by a name or by a number.",
    ),
    Term(
        "data version",
        "A short mark that changes whenever the records change. Two papers with the same one rest on the same records.",
    ),
    Term(
        "dates",
        "Every date here is that of a kind of season, not of a year to come. Seasons move all dates together, often by one to three weeks.",
        PRACTICE,
    ),
    Term(
        "days from the check",
        "How many days a cultivar ripens before or after the check cultivar. They carry over from season to season better than dates.",
    ),
    Term(
        "days without fruit",
        "How long a gap gets: the most days in a row without fruit, in it or within two weeks of it. In brackets what 8 years in 10 lie between.",
        OURS,
    ),
    Term(
        "early, ordinary or late season",
        "Of ten seasons, the first is early, the last is late, and an ordinary one lies in the middle.",
        OURS,
    ),
    Term("evidence", "How many seasons, sites and samples stand behind a figure. The more, the surer."),
    Term(
        "firmness",
        "The force that presses an 8 mm tip into the flesh of a fruit, skin removed, as the mean of both cheeks. It falls as fruit ripens.",
        PRACTICE,
    ),
    Term(
        "gap",
        "A stretch of days without fruit that the market takes in too many years: more than 2 in 10, or as you choose.",
        OURS,
    ),
    Term(
        "leans on its relatives",
        "Its brothers, sisters and parents in the trial tell part of what it is worth. Without them its likely range would be 5 % wider or more.",
        OURS,
    ),
    Term(
        "likely range",
        "Where the true average of a cultivar lies in 9 cases of 10, its score in 8 of 10; single fruit vary more. A long one means that little is known.",
    ),
    Term(
        "limit",
        "Something a market insists on, for example a least size. Miss one limit and you miss the market, however good the rest.",
    ),
    Term("market", "What one kind of buyer insists on (limits) and would rather have (wishes)."),
    Term("my slate", "The cultivars put aside with ☆: what may be ordered, and the days it covers."),
    Term(
        "nectarine",
        "A fruit like a peach, without fuzz.",
        PRACTICE,
    ),
    Term("not recorded", "Nobody wrote it down. It does not mean none, and it does not mean bad."),
    Term(
        "nothing beats it",
        "Of those that pass your filters and may suit the market, none beats it in size, firmness and sugar at once, each as wished. It says nothing about price or yield.",
    ),
    Term(
        "numbered selection",
        "A seedling under trial that has a number and no name yet. It may not be on sale.",
        PRACTICE,
    ),
    Term(
        "pick",
        "One going-over of the trees in a season. Fruit of one cultivar ripens over days and is taken in several picks.",
        PRACTICE,
    ),
    Term(
        "pit",
        "How the flesh holds to the pit: cling, semi-free or free.",
    ),
    Term(
        "protected",
        "Someone owns the right to propagate it. You need a license to do so.",
    ),
    Term(
        "qualifies",
        "The market takes it: the chance that every limit holds is 80 % or more. From 20 to 80 % it may qualify, below it misses, and "
        "without a reading to tell by it is not known.",
        OURS,
    ),
    Term(
        "reliability",
        "0 where a cultivar's samples tell nothing about it yet, 1 where they tell all. The lower it is, the more a figure is drawn to what is usual.",
    ),
    Term(
        "ripening window",
        "The days from the first pick of a cultivar to the last. What is shown is the window to be expected in one kind of season.",
    ),
    Term(
        "sample",
        "The fruit picked from one cultivar at one site on one day. As a rule ten are measured and all are looked at for the ratings.",
        PRACTICE,
    ),
    Term(
        "score",
        "0 to 100: how far the market's wishes are met, as is to be expected; one wish not met at all makes it 0. Two scores a few points apart are not different.",
    ),
    Term(
        "share of the fruit",
        "Limits on the fruit ask what part of a cultivar's fruit to come is, say, large enough. With a mean of just the limit, half the fruit would be smaller.",
    ),
    Term(
        "site-season",
        "One site in one season. Weather and soil of a site-season move all cultivars there together.",
    ),
    Term("size", "The mean of two diameters: along the suture, the seam of the fruit, and across it.", PRACTICE),
    Term(
        "soluble solids",
        "What is dissolved in the juice, most of it sugar. It stands here as sugar and is read in °Brix.",
        PRACTICE,
    ),
    Term(
        "stand-in",
        "A cultivar of the same class that ripens within a few days of another and could take its place.",
    ),
    Term(
        "weight",
        "How much one wish counts beside the others. Only the ratios of weights matter.",
    ),
    Term(
        "wish",
        "Something a market would rather have. It is more or less met, and what it lacks costs points of the score.",
    ),
    Term(
        "°Brix",
        "The unit of a sugar reading: about one gram of solids in 100 grams of juice. A reading of 16 is high but not rare.",
        PRACTICE,
    ),
)  # fmt: skip
_BY_NAME = {term.name.casefold(): term for term in TERMS}


def meaning(term: str) -> str:
    """What a word means, whatever its case; ValueError for one that is not in the list."""
    known = _BY_NAME.get(term.strip().casefold())
    if known is None:
        raise ValueError(f"{term!r} is not among the words explained in docs/glossary.md.")
    return known.meaning


def markdown() -> str:
    """The document."""
    rows = "\n".join(f"| **{term.name}** | {term.meaning} | {term.source or ''} |" for term in TERMS)
    return (
        "# Words\n\nWhat the words of the trade, of the page and of its papers mean here. The last column says where a meaning holds a "
        "figure or a\nhabit for which there is no published source, or which we chose. How figures are worked out: [methods.md](methods.md).\n\n"
        f"| word | meaning | origin |\n|---|---|---|\n{rows}\n"
    )


def write(place: Path) -> None:
    place.write_text(markdown(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
