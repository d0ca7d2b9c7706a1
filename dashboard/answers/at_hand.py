"""What every page asks when it is opened, worked out before records are shown: whoever opens the first one finds it there."""

from __future__ import annotations

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import Question, known_values

OPENED = ("counts", "market_counts", "emptied", "ranking", "openings", "bounds", "strip")


def work_out(catalogue: Catalogue) -> None:
    """The parts of the answer remember it. It touches nothing of a page, so it may be done in a thread of its own."""
    known_values(catalogue)
    asked = Question(catalogue, season_kind="any")  # as a bare address asks (``page.app``)
    for part in OPENED:
        getattr(asked, part)
