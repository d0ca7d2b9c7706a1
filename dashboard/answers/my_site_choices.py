"""What may be asked of my site: in how many winters chill is enough, whose weather, and how much higher it lies."""

from __future__ import annotations

from functools import lru_cache

from dashboard.answers.catalogue import Catalogue, site_name
from dashboard.answers.choosing import MOST
from dashboard.answers.my_site import enough_in, need_unknown, stations_of

WINTERS = (7, 8, 9, 10)  # of ten, in which chill is enough


def every_enough(catalogue: Catalogue) -> tuple[str, ...]:
    """ "9 maravel": so many winters of ten at a station, each of them."""
    return tuple(f"{least} {key}" for key in stations_of(catalogue) for least in WINTERS)


@lru_cache(maxsize=8)
def enough_offered(catalogue: Catalogue) -> tuple[str, ...]:
    """Those that part the cultivars; of many stations none, which would be no list."""
    every, unknown = every_enough(catalogue), need_unknown(catalogue)
    if len(every) > MOST or unknown.all():
        return ()
    return tuple(one for one in every if 0 < enough_in(catalogue, one).sum() < (~unknown).sum())


def enough_written(catalogue: Catalogue, option: str) -> str:
    least, _, key = option.partition(" ")
    return f"{least} winters in 10 at {site_name(catalogue, key)}"


# Meters by which a place may lie above or below a station.
HIGHER = (0, 30, 60, 90, 120, -30, -60, -90, -120)


def higher_written(_catalogue: Catalogue, meters: int) -> str:
    way = "higher" if meters > 0 else "lower"
    return f"{abs(meters)} m ({abs(meters) / 0.3048:.0f} ft) {way}" if meters else "where the station is"


def station_keys(catalogue: Catalogue) -> tuple[str, ...]:
    return ("", *stations_of(catalogue))


def station_written(catalogue: Catalogue, station: str) -> str:
    return site_name(catalogue, station) if station else "the site of the figures"
