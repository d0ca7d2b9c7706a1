"""What a question asks of my slate: for which buyers, over which selling days, and what would fill it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from typing import Any

from dashboard.answers import filters as filtering
from dashboard.answers import standing
from dashboard.answers import strip as slate_strip
from dashboard.answers.catalogue import Basis, Catalogue
from dashboard.answers.choices import FILTERS, Choices, Filters
from dashboard.answers.comparing import Compared, compared
from dashboard.answers.filters import REMEMBERED
from dashboard.answers.my_site import MySite, my_site, stations_of
from dashboard.answers.order_asked import order_wanted
from dashboard.answers.ordering import OrderWanted
from dashboard.answers.planting import Pool, offers_known
from dashboard.answers.replacing import Droppable, droppable
from dashboard.answers.selling import Wanted, backwards, share_of, some_of_each
from dashboard.market import Market
from dashboard.ripening.days import day_of_key
from dashboard.site.winters import Winters


@dataclass(frozen=True)
class Slated(Choices):
    """Every choice that was made, of one catalogue, and what follows for the slate; ``Question`` is the whole."""

    catalogue: Catalogue
    weather: MySite | None = field(
        default=None, kw_only=True
    )  # a place whose weather was brought, for this visit

    @property
    def my_site(self) -> MySite | None:
        """The place that trees are to stand at; None without any weather."""
        return self.weather or my_site(self.catalogue, self.station, self.site, self.higher)

    @property
    def profile(self) -> Market | None:
        """The market asked for, with the visitor's own limits and wishes where there are any; None for none."""
        return standing.profile(self.catalogue, self.market, self.own, self.chosen_winters)

    @property
    def chosen_winters(self) -> Winters | None:
        """The winters of the place that was chosen: by its station, as the site of the figures, or by weather that was brought. None
        where ``my_site`` is only the first there is: a market asks nothing of a place that nobody chose."""
        chosen = self.weather is not None or not {self.station, self.site}.isdisjoint(
            stations_of(self.catalogue)
        )
        return self.my_site.winters if chosen and self.my_site is not None else None

    @property
    def basis(self) -> Basis:
        return Basis(self.site, self.ripeness)

    @cached_property
    def filters(self) -> Filters:
        return Filters(**{name: getattr(self, name) for name in FILTERS})

    @property
    def selling(self) -> tuple[float, float]:
        """First and last selling day; an end that was not chosen is the season's."""
        return self._selling(self.season_kind)

    def _selling(self, kind: str) -> tuple[float, float]:
        return slate_strip.selling(self.catalogue, *self._ends, self.site, kind)

    @property
    def wrong_way(self) -> str:
        """Why the selling days that were chosen cannot be, one sentence; "" where they can."""
        whole = slate_strip.selling(self.catalogue, None, None, self.site, self.season_kind)
        first, last = (end if day is None else day for day, end in zip(self._ends, whole, strict=True))
        return backwards(first, last, self.catalogue.south)

    @property
    def _ends(self) -> tuple[float | None, float | None]:
        """First and last selling day as chosen; None where that was not."""
        south = self.catalogue.south
        opens, closes = (day_of_key(key, south) if key else None for key in (self.opens, self.closes))
        return opens, closes

    @property
    def buyers(self) -> tuple[Market | None, ...]:
        """Who the slate is for: the market asked for and, where there is one, the second; (None,) without a market."""
        return (self.profile, self.second_buyer) if self.second_buyer else (self.profile,)

    @property
    def second_buyer(self) -> Market | None:
        """The other buyer of the same slate; None for none, for the same once more, and beside no market."""
        other = self.profile is not None and self.second != self.market
        return standing.profile(self.catalogue, self.second, (), self.chosen_winters) if other else None

    @property
    def wanted(self) -> Wanted:
        """What a plan for this question is asked for: fruit for its buyers over its selling days, out of what passes the filters."""
        pool, chance = Pool(self.filters), (self.season_kind, self.least, self.certainty)
        return _wanted(self.catalogue, self.buyers, self.selling, pool, self.basis, *chance)

    @property
    def droppable(self) -> Droppable | None:
        """Who of the slate could be dropped without a new gap, whatever the filters; None while it is empty, or without a ripening
        model."""
        if not self.shortlist or self.catalogue.ripening.refused:
            return None
        return droppable(replace(self.wanted, pool=Pool()), self.shortlist)

    @property
    def compared(self) -> Compared | None:
        """The slate beside the other list, whatever the filters, and what of that passes them; None while there is none."""
        if not self.other:
            return None
        passing = filtering.passes(self.catalogue, replace(self.filters, ripening=()))
        passing = passing | ~self.catalogue.ripening.known  # who was never picked covers nothing either way
        let = tuple(name for name in self.catalogue.cultivars.index[passing] if name in set(self.other))
        return compared(replace(self.wanted, pool=Pool()), self.shortlist, self.other, let)

    @property
    def proposal_wanted(self) -> Wanted:
        """The same for the years it is built for, out of what can be bought where offers are on record, with the slate kept, those never wanted
        left out, at most so many cultivars, and the share by class that was asked for."""
        kept = tuple(name for name in self.shortlist if self.catalogue.windows["seasons"].get(name, 0) > 0)
        most = self.most if self.most is None else max(self.most, len(kept))
        barred = tuple(
            name for name in self.barred if name not in kept
        )  # what was put on it is wanted after all
        offered = self.bought == "now" and offers_known(self.catalogue)
        pool = Pool(self.filters, offered=offered, kept=kept, barred=barred)
        first, last = self._selling(self.built_for)
        asked = replace(self.wanted, first=first, last=last, season_kind=self.built_for, pool=pool, most=most)
        return replace(
            asked, shares=share_of(self.share) or some_of_each(asked, "flesh_colour", self.flesh_colour)
        )

    @property
    def order_wanted(self) -> OrderWanted:
        """The order of trees that is asked for, of my slate for its buyers; nothing is wanted in any week while no amount was typed."""
        return order_wanted(
            self, self.catalogue, self.profile, self.basis, self.selling, self.place_of_trees, self.weather is not None, self.second_buyer
        )  # fmt: skip

    @property
    def place_of_trees(self) -> MySite | None:
        """The place that was chosen, where it tells of bloom; None for another, which takes nothing from a crop."""
        chosen = self.my_site if self.chosen_winters is not None else None
        return None if chosen is None or chosen.bloom_refused else chosen

    @property
    def strip(self) -> slate_strip.Strip | None:
        """The slate over the selling days, a row a buyer; None without a ripening model."""
        return slate_strip.strip(
            self.catalogue, self.shortlist, self.buyers, self.basis, self.season_kind, self.selling, self.least, self.certainty
        )  # fmt: skip


@lru_cache(maxsize=REMEMBERED)
def _wanted(catalogue: Catalogue, buyers: tuple, days: tuple[float, float], *more: Any) -> Wanted:
    return Wanted(catalogue, buyers, *days, *more)
