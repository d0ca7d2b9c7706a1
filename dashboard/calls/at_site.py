"""What the weather of a place says of the cultivars that pass: chill, bloom and frost."""

from __future__ import annotations

from typing import Any

import numpy as np

from dashboard.answers.my_site import MySite
from dashboard.answers.question import Question
from dashboard.calls.columns import Found, Told
from dashboard.calls.resting import cautions_of, evidence
from dashboard.calls.table import Table, answered
from dashboard.calls.understood import AskError, plainly, shown
from dashboard.handout.site_table import place
from dashboard.wording import my_site as words


def at_place(asked: Question, site: str, higher: Any, weather: str) -> tuple[MySite, list[str]]:
    """The place that is named, and what was set aside of its file; AskError, one sentence, where there is none."""
    if (
        isinstance(higher, bool)
        or not isinstance(higher, int | float)
        or higher != higher
        or abs(higher) > 9000
    ):
        raise AskError(
            f"Meters above the station are a number, below it a negative one, not {shown(higher)}."
        )
    told: list[str] = []
    try:
        return place(asked.catalogue, str(site), round(higher), str(weather), told), told
    except ValueError as fault:
        raise AskError(str(fault)) from None


def at_site(asked: Question, site: str, higher: Any, weather: str) -> Found:
    """Rows by cultivar, those that go short most often first; AskError, one sentence, where nothing can be told."""
    found, told = at_place(asked, site, higher, weather)
    if found.refused:
        raise AskError(found.refused)
    asked = Question(
        **{**{name: getattr(asked, name) for name in asked.__dataclass_fields__}, "weather": found}
    )
    rows = words.rows(asked)
    frame = Told()
    frame.add("chill_needed", rows["need"])
    frame.add("unit", rows["measure"].map(words.UNITS))
    for end in ("", "_low", "_high"):
        frame.add(f"winters_in_10{end}", 10 * rows[f"enough{end}"], "Winters in 10 with enough chill", 1)
    if found.bloomed is not None:
        at = asked.catalogue.cultivars.index.get_indexer(rows.index)
        lost = found.bloomed.lost[:, at]
        frame.add(
            "full_bloom",
            [words.bloom_told(asked, str(name)).partition(",")[0] for name in rows.index],
            "Full bloom, usual",
        )
        frame.add("bloom_lost_pct", 100 * lost.mean(axis=0), "Bloom lost to frost, mean (%)", 0)
        frame.add(
            "springs_over_half_lost", (lost > 0.5).sum(axis=0), f"Of {len(lost)} springs, over half lost"
        )
        frame.add(
            "bloom_within_days",
            np.median(found.bloomed.half[:, at], axis=0),
            "Bloom within so many days (90 %)",
            0,
        )
    beside = asked.rows_of(tuple(rows.index))
    frame.add("bacterial_spot", beside["bacterial_spot"], "Bacterial spot (0 none to 5)")
    frame.add("hail_samples", beside["hail"].astype(int), "Samples with hail noted")
    said = [
        *words.supply_told(found),
        words.rounding_told(asked),
        *words.doubt_told(asked),
        *words.slate_told(asked),
        *words.records_told(found),
        *told,
    ]
    said += (
        [found.bloom_refused]
        if found.bloom_refused
        else words.frost_told(asked, [str(name) for name in rows.index])
    )
    return frame.frame(rows.index), said, frame.headings


class AtSite:
    """The part of a question that is asked of a place."""

    question: Question

    @plainly
    def site(self, name: str = "", *, higher: float = 0, weather: str = "") -> Table:
        """Whether it thrives at a place: who gets enough winter chill, when it blooms, what frost would have taken.

        Parameters
        ----------
        name : str
            A site of the records that has weather; the first without.
        higher : float
            Meters by which the place lies above it; below it, a negative number. Told only where other stations speak for it.
        weather : str
            A .csv file of the place's own days: date, tmin_c and tmax_c, or tmin_f and tmax_f.

        Returns
        -------
        Table
            One row a cultivar that passes and has its need on record, or one of the slate; those that go short most often first. An
            estimate: your local extension service and your own records come first.

        Raises
        ------
        AskError
            No weather there, a file that cannot be read, or too few winters.
        """
        asked = self.question
        frame, said, headings = at_site(asked, name, higher, weather)
        return answered(
            frame,
            said=said,
            evidence=evidence(asked, dated=False),
            cautions=dict.fromkeys((*words.CAUTIONS, *cautions_of(asked))),
            headings=headings,
        )
