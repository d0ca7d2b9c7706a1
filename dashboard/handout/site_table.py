"""``orchard-slate site``: who gets enough chill at a place, when it blooms there and what frost would have taken."""

from __future__ import annotations

from pathlib import Path

import pandas as pd

from dashboard.answers.catalogue import Catalogue, load
from dashboard.answers.growing import growing
from dashboard.answers.my_site import MySite, my_site, own_site, stations_of, unused_of
from dashboard.answers.question import Question
from dashboard.handout.estimates import text
from dashboard.handout.ripening import site_key
from dashboard.records.weather_file import read_weather
from dashboard.site.station import station
from dashboard.wording import my_site as words


def told(source: str, site: str = "", higher: int = 0, weather: str = "") -> tuple[str, list[str]]:
    """The table as comma-separated text, and what is to be said beside it; ValueError, one sentence, where nothing can be told.

    ``site`` is a site of the records by key or name, "" for the first with weather; ``higher`` meters above it; ``weather`` a file of one's own.
    """
    catalogue = load(source)
    remarks: list[str] = []
    asked = Question(catalogue, weather=place(catalogue, site, higher, weather, remarks))
    found = asked.my_site
    assert found is not None
    if found.refused:
        raise ValueError(found.refused)
    need = [words.rounding_told(asked), *words.doubt_told(asked)]
    lines = [*words.supply_told(found), *need, *words.records_told(found)]
    lines += (
        [found.bloom_refused]
        if found.bloom_refused
        else words.frost_told(asked, list(catalogue.cultivars.index))
    )
    return text(table(asked)), [*remarks, *lines, *words.CAUTIONS]


def table(asked: Question) -> pd.DataFrame:
    """One row a cultivar in catalogue order: what it needs, in how many winters of ten it gets that, its bloom and the springs it lost."""
    found, names = asked.my_site, asked.catalogue.cultivars.index
    assert found is not None
    told = found.enough
    frame = pd.DataFrame(
        {
            "cultivar": names.astype(str),
            "chill_needed": told["need"].to_numpy(),
            "unit": [words.UNITS.get(one, "") for one in told["measure"]],
        }
    )
    for key, name in (
        ("enough", "winters_in_10"),
        ("enough_low", "winters_in_10_low"),
        ("enough_high", "winters_in_10_high"),
    ):
        frame[name] = (10 * told[key]).round(2).to_numpy()
    if found.bloomed is not None:
        lost = found.bloomed.lost
        frame["full_bloom_usual"] = [words.bloom_told(asked, str(name)).partition(",")[0] for name in names]
        frame["bloom_lost_mean_pct"] = (100 * lost.mean(axis=0)).round(1)
        frame["springs_over_half_lost"] = (lost > 0.5).sum(axis=0)
        frame["springs"] = len(found.bloomed.years)
    beside = growing(asked.catalogue)
    return frame.assign(bacterial_spot=beside["bacterial_spot"].to_numpy(), hail_samples=beside["hail"].astype(int).to_numpy())  # fmt: skip


def standing_at(
    catalogue: Catalogue, site: str, higher: int, weather: str, figures: str, remarks: list[str]
) -> MySite | None:
    """Where ordered trees are to stand: the place that is named, else the site that ``figures`` stand for, as on the page; None for neither.
    ValueError, one sentence, where a place that is named tells nothing of its frosts."""
    if not (site or higher or weather):
        return my_site(catalogue, figures, figures, 0) if figures in stations_of(catalogue) else None
    found = place(catalogue, site, higher, weather, remarks)
    if found.bloom_refused:
        raise ValueError(found.bloom_refused)
    return found


def place(catalogue: Catalogue, site: str, higher: int, weather: str, remarks: list[str]) -> MySite:
    """The place that is asked for; what was set aside of its file joins ``remarks``. ValueError, one sentence, where there is none."""
    stations = stations_of(catalogue)
    key = site_key(catalogue, site) if site else ""
    if key and key not in stations:
        raise ValueError(
            f"There is no weather of a site {site!r}; there is some of {', '.join(stations) or 'no site'}."
        )
    here = my_site(catalogue, key, "", higher)
    if weather:
        brought = read_weather(weather)
        if brought.refused:
            raise ValueError(brought.refused)
        remarks.extend(brought.told)
        beside = here.station if here else None
        latitude = beside.latitude_deg if beside else float(catalogue.sites["latitude_deg"].mean())
        return own_site(catalogue, station(brought.days, Path(weather).stem, latitude), beside)
    if here is None:
        raise ValueError(
            " ".join(
                ["These records hold no weather; name a file of it with --weather.", *unused_of(catalogue)]
            )
        )
    return here
