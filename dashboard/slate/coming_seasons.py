"""The coming seasons that a published slate carries, so that it finds the page's gaps, day for day, for whatever list is made in it.

Of every cultivar that a buyer takes, or may take, the first day picked and the one after the last, in each joint draw; days are
whole numbers from the first of ``span`` on and cut to it, as ``season.picking`` counts them.
"""

from __future__ import annotations

import base64
import zlib
from dataclasses import replace
from typing import Any

import numpy as np

from dashboard.answers.catalogue import windows_at
from dashboard.answers.planting import merits, takes
from dashboard.answers.question import Question
from dashboard.ripening import day_label, half_span
from dashboard.ripening.cover import CERTAINTIES, whole_days
from dashboard.ripening.days import MONTHS, day_key
from dashboard.ripening.model import ANY
from dashboard.wording.covered import told_with
from dashboard.wording.filling import HELPFUL, NOBODY_THEN, TO_KEEP
from dashboard.wording.gaps import gaps_head, has_fruit, usual_told
from dashboard.wording.planning import MOVED, SELDOM
from dashboard.wording.strip import BUILD, FILL, NEVER_PICKED, SURE_FROM, WRONG_WAY, years_told


def seasons(asked: Question, place: dict[Any, int]) -> dict[str, Any] | None:
    """``place`` tells where a name stands in the slate. ``packed`` is zlib in base64 of little-endian ``bits``-bit numbers: by
    cultivar of ``rows`` all starts, from its earliest, its ``base``, on; then by cultivar how many days each lasts. None without a
    ripening model."""
    whole = replace(asked, shortlist=(), ripening=(), opens="", closes="")
    cover = whole.cover
    if cover is None:
        return None
    taken = takes(asked.catalogue, asked.buyers, asked.basis).loc[list(place)].any(axis=1)
    south = asked.catalogue.south
    halves = {half: half_span(half, south) for half in asked.counts["ripening"]}
    ends = [cover.span, asked.selling, *halves.values()]
    span = (float(np.floor(min(a for a, _ in ends))), float(np.ceil(max(b for _, b in ends))))
    days = np.arange(span[0], span[1] + 1)
    columns = cover.draws.of(tuple(taken.index[taken]))
    starts, after = whole_days(cover.draws.first[:, columns], cover.draws.last[:, columns], span)
    kind = np.dtype("<u1" if span[1] - span[0] < 255 else "<u2")
    base = starts.min(axis=0, initial=len(days))
    packed = np.concatenate([(starts - base).T, (after - starts).T]).astype(
        kind
    )  # small numbers: they pack better
    names = cover.draws.cultivars[columns]
    told = {years: replace(asked, certainty=years) for years in CERTAINTIES}
    return {
        "first": span[0], "span": list(cover.span), "draws": len(cover.draws.first), "bits": 8 * kind.itemsize, "base": base.tolist(),
        "rows": [place[name] for name in names], "halves": halves, "least": asked.least, "certainty": asked.certainty,
        "selling": list(asked.selling), "chosen": bool(asked.opens or asked.closes),
        "dates": [day_label(day, south) for day in days], "keys": [day_key(day, south) for day in days],
        "months": list(MONTHS), "sure": SURE_FROM,
        "gaps": {years: gaps_head(one) for years, one in told.items()},
        "words": {"never_picked": NEVER_PICKED, "wrong_way": WRONG_WAY, "nobody_then": NOBODY_THEN, "seldom": SELDOM, "moved": MOVED, "helpful": HELPFUL if asked.profile else ".", "to_keep": TO_KEEP, "fill": FILL, "build": BUILD},
        "covered": told_with(asked.season_kind, asked.least), "has": has_fruit(asked.least), "years": years_told(asked),
        "usual": usual_told(asked.catalogue.ripening) if asked.season_kind == ANY else "",
        **_merits(asked, list(place)),
        "packed": base64.b64encode(_small(packed.tobytes())).decode("ascii"),
    }  # fmt: skip


def _small(numbers: bytes) -> bytes:
    """As zlib. Draws hold no runs to look for: without looking they take a tenth less."""
    how = zlib.compressobj(9, strategy=zlib.Z_HUFFMAN_ONLY, memLevel=9)
    return how.compress(numbers) + how.flush()


def _merits(asked: Question, names: list[Any]) -> dict[str, list]:
    """What is told of each of ``names`` in the strip and beside a gap: usual days of picking, flesh, score, evidence, ``worth``."""
    windows = windows_at(asked.catalogue, asked.site, asked.season_kind).loc[names]
    known = merits(asked.catalogue, asked.buyers, asked.basis).loc[names]
    columns = {
        "usual_first": windows["first"], "usual_last": windows["last"], "score": 100 * known["score 0"], "worth": known["worth"],
        **{f"clears {place}": known[f"clears {place}"] for place in range(len(asked.buyers))},
        "evidence": known["seasons"],
    }  # fmt: skip
    return {
        "flesh": asked.catalogue.cultivars.loc[names, "flesh_colour"].astype(str).tolist(),
        "class": known["class"].astype(str).tolist(),
        **{
            name: [None if one != one else round(float(one), 4) for one in column]
            for name, column in columns.items()
        },
    }
