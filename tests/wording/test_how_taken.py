"""What of the fruit size is of stands beside it wherever it is written, and among what figures stand on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from dashboard.answers.question import Question
from dashboard.records.taken import Taken
from dashboard.wording.columns import COLUMNS
from dashboard.wording.how_taken import how_taken, trait_heading
from dashboard.wording.stands_on import held, unsaid
from dashboard.wording.trait_rows import value_rows


@pytest.mark.parametrize(
    "how", [Taken(), Taken("best"), Taken("commercial"), Taken("commercial", 57.0)], ids=str
)
def test_size_is_marked_and_nothing_else(catalogue, how):
    frame = catalogue.summaries
    if how.way != "all":
        frame = frame.assign(
            size_taken=how.way, size_floor=np.nan if how.smallest_mm is None else how.smallest_mm
        )
    known = replace(catalogue, summaries=frame)
    asked = Question(known, cultivar=known.cultivars.index[0])
    assert how_taken(known) == how
    end = f", {how.mark}" if how.mark else ""
    assert trait_heading(asked, "size") == "Size (in)" + end
    assert trait_heading(asked, "sugar") == "Sugar (°Brix)"
    rows = {row["id"]: row["trait"] for row in value_rows(asked)}
    assert rows["size"] == "Size (in)" + end
    assert COLUMNS["size"].filed[0].heading(asked) == "Size (in)" + end
    for lines in (held(known), unsaid(known)):
        assert (how.sentence in lines) == bool(how.sentence)
