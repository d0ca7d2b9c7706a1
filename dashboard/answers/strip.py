"""My slate over the selling season: day by day how sure its fruit is for each buyer, who is picked when, and where it has gaps.

A day is covered when at least ``least`` of what the buyer takes, or may take, are being picked on it in as many seasons of ten as
``certainty`` asks; ``Row.surely`` tells which days what qualifies covers alone. What misses the buyer covers nothing and is drawn
all the same. Remembered by exactly what was asked.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers import standing
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.filters import REMEMBERED
from dashboard.market import Market
from dashboard.market.verdict import QUALIFIES, TAKEN
from dashboard.ripening import season_of
from dashboard.ripening.cover import Cover, Gap, draws
from dashboard.ripening.seen import stretches


@dataclass(frozen=True)
class Bar:
    """One cultivar of the slate: its usual days of picking, and what each buyer says of it."""

    name: str
    first: float
    last: float
    verdicts: tuple[str, ...]  # one a buyer, in the order of ``Strip.rows``


@dataclass(frozen=True, eq=False)
class Row:
    """One buyer's days: ``cover`` by what it takes or may take, ``sure`` by what qualifies alone."""

    buyer: str  # "" where no market was chosen
    cover: Cover
    sure: Cover

    @property
    def covered(self) -> np.ndarray:
        """(days,) covered, by what qualifies or may."""
        return self.cover.covered

    @property
    def surely(self) -> np.ndarray:
        """(days,) covered by what qualifies alone."""
        return self.sure.covered

    @property
    def gaps(self) -> tuple[Gap, ...]:
        return self.cover.gaps

    @property
    def longest(self) -> int:
        """Days of the longest gap; 0 where there is none."""
        return max((int(gap.last - gap.first) + 1 for gap in self.gaps), default=0)

    def closed_by(self, name: str) -> list[tuple[float, float]]:
        """Stretches (first day, last day) that are gaps now and would be none with this cultivar, which the buyer takes, beside them."""
        cover = self.cover
        more = Cover(cover.draws, (*cover.names, name), cover.span, cover.least, cover.certainty)
        days = cover.days
        return [(float(days[a]), float(days[b - 1])) for a, b in stretches(~self.covered & more.covered)]


@dataclass(frozen=True, eq=False)
class Strip:
    """The selling days ``span``, a row a buyer, and the slate's cultivars in order of picking.

    ``unpicked`` are those of the slate that nobody has picked yet: they have no days.
    """

    span: tuple[float, float]
    rows: tuple[Row, ...]
    bars: tuple[Bar, ...]
    unpicked: tuple[str, ...]


def selling(
    catalogue: Catalogue, opens: float | None, closes: float | None, site: str, season_kind: str
) -> tuple[float, float]:
    """First and last selling day: as asked; an end that was not asked for is that of all that was ever picked.

    A season that was asked for the wrong way round (it cannot be: who asks is told before) is taken as the whole one.
    """
    whole = season_of(catalogues.windows_at(catalogue, site, season_kind))
    span = (
        float(np.floor(whole[0])) if opens is None else opens,
        float(np.ceil(whole[1])) if closes is None else closes,
    )
    return span if span[0] <= span[1] else (float(np.floor(whole[0])), float(np.ceil(whole[1])))


def in_order(catalogue: Catalogue, slate: tuple[str, ...], site: str, season_kind: str) -> pd.DataFrame:
    """The windows of those of the slate that have a time of picking, in order of picking."""
    windows = catalogues.windows_at(catalogue, site, season_kind).reindex(list(slate))
    return windows.dropna(subset=["first", "last"]).sort_values(["first", "last"], kind="stable")


@lru_cache(maxsize=REMEMBERED)
def strip(
    catalogue: Catalogue,
    slate: tuple[str, ...],
    buyers: tuple[Market | None, ...],
    basis: Basis,
    season_kind: str,
    span: tuple[float, float],
    least: int,
    certainty: int,
) -> Strip | None:
    """None without a ripening model: there no chance can be told. ``buyers`` holds None where no market was chosen."""
    ripe = catalogue.ripening
    if ripe.refused:
        return None
    drawn = draws(ripe, ripe.known_site(basis.site), season_kind)
    said = [standing.fits(catalogue, buyer, basis)["verdict"] for buyer in buyers]
    rows = []
    for buyer, verdict in zip(buyers, said, strict=True):
        taken, qualify = (
            tuple(name for name in slate if verdict.get(name) in words) for words in (TAKEN, (QUALIFIES,))
        )
        cover = Cover(drawn, taken, span, least, certainty)
        sure = cover if qualify == taken else Cover(drawn, qualify, span, least, certainty)
        rows.append(Row(buyer.name if buyer else "", cover, sure))
    known = in_order(catalogue, slate, basis.site, season_kind)
    bars = tuple(
        Bar(str(name), float(first), float(last), tuple(str(verdict.get(name)) for verdict in said))
        for name, first, last in zip(known.index, known["first"], known["last"], strict=True)
    )
    unpicked = tuple(name for name in slate if name not in set(known.index))
    return Strip(span, tuple(rows), bars, unpicked)
