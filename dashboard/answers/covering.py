"""How well what was asked for covers the season it is asked for, and who passes when: remembered by exactly what was asked."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers import filters as filtering
from dashboard.answers.catalogue import Catalogue
from dashboard.answers.filters import REMEMBERED, Filters
from dashboard.ripening import half_span, season_of
from dashboard.ripening.cover import Cover, draws


@lru_cache(maxsize=REMEMBERED)
def cover(
    catalogue: Catalogue,
    names: tuple[str, ...],
    site: str,
    season_kind: str,
    wanted: tuple[str, ...],
    least: int,
    certainty: int,
    selling: tuple[float, float] | None = None,
) -> Cover | None:
    """The season cover of ``names`` over the ``selling`` days or the halves of months ``wanted``, or the whole season; None without a
    ripening model."""
    ripe = catalogue.ripening
    if ripe.refused:
        return None
    every = catalogues.windows_at(catalogue, site, season_kind)
    spans = [half_span(half, catalogue.south) for half in wanted] or [season_of(every)]
    span = selling or (float(np.floor(min(a for a, _ in spans))), float(np.ceil(max(b for _, b in spans))))
    return Cover(draws(ripe, ripe.known_site(site), season_kind), names, span, least, certainty)


@lru_cache(maxsize=REMEMBERED)
def windows(catalogue: Catalogue, filters: Filters, site: str, season_kind: str) -> pd.DataFrame:
    """Ripening windows of the passing cultivars, by middle; those never picked are not in it."""
    every = catalogues.windows_at(catalogue, site, season_kind)
    passing = every[filtering.passes(catalogue, filters)]
    return passing.dropna(subset="middle").sort_values("middle", kind="stable")
