"""The coming seasons that a published slate carries, so that it finds the page's gaps, day for day, for whatever list is made in it.

Of every cultivar that the market takes, or may take, the first day picked and the one after the last, in each joint draw; days are
whole numbers from the first of ``span`` on and cut to it, as ``season.picking`` counts them.
"""

from __future__ import annotations

import base64
import zlib
from typing import Any

import numpy as np

from dashboard.answers.question import Question
from dashboard.ripening import half_span
from dashboard.ripening.cover import whole_days
from dashboard.wording.gaps import gaps_head, no_gap


def seasons(asked: Question, place: dict[Any, int]) -> dict[str, Any] | None:
    """``place`` tells where a name stands in the slate. ``packed`` is zlib in base64 of little-endian ``bits``-bit numbers: by
    cultivar of ``rows`` all starts, then all ends. None without a ripening model."""
    cover = asked.cover
    if cover is None:
        return None
    halves = {half: half_span(half, asked.catalogue.south) for half in asked.counts["ripening"]}
    ends = [cover.span, *halves.values()]
    span = (float(np.floor(min(a for a, _ in ends))), float(np.ceil(max(b for _, b in ends))))
    columns = cover.draws.of(cover.names)
    starts, after = whole_days(cover.draws.first[:, columns], cover.draws.last[:, columns], span)
    kind = np.dtype("<u1" if span[1] - span[0] < 255 else "<u2")
    packed = np.stack([starts.T, after.T], axis=1).astype(kind)
    names = cover.draws.cultivars[columns]
    return {
        "first": span[0], "span": list(cover.span), "draws": len(cover.draws.first), "bits": 8 * kind.itemsize,
        "rows": [place[name] for name in names], "halves": halves, "least": asked.least, "certainty": asked.certainty,
        "gaps": gaps_head(asked), "no_gap": no_gap(asked),
        "packed": base64.b64encode(zlib.compress(packed.tobytes(), 9)).decode("ascii"),
    }  # fmt: skip
