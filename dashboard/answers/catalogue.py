"""Everything the records say about the cultivars, worked out once per folder and shared by every visitor.

Nothing in a catalogue is ever changed: frames are handed out as they are, and whoever needs another arrangement takes a copy.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial
from pathlib import Path
from typing import Any, NamedTuple

import pandas as pd

from dashboard import estimates
from dashboard.answers.expected_windows import expected_windows
from dashboard.answers.facts import Fact
from dashboard.estimates import COUNTS, EQUAL_FIRMNESS, METHOD, Relatives, Worth
from dashboard.estimates.stored import stored_worths
from dashboard.market import Market, market_called, read_markets
from dashboard.places import MARKETS
from dashboard.records import Problem, read
from dashboard.records.photos import photographs
from dashboard.records.schema import PARENTS
from dashboard.records.store.newest import newest
from dashboard.records.summary import fruit_values, sample_summaries
from dashboard.ripening import picks, windows
from dashboard.ripening.model import Ripening, ripening
from dashboard.ripening.visits import ripe_days
from dashboard.site.noted import hail_noted
from dashboard.terms.traits import CLASSES, TRAITS, UNKNOWN

# Facts of a cultivar that are words; missing ones read UNKNOWN so that they can be asked for.
WORDS = (*CLASSES, "flesh_texture", "status")
UNTITLED = "Records without a title"
_YES_NO = ("protected", "check")
_CARRIED = ("trees", "bloom", "yields", "nursery", "weather", "beyond")
_OTHER = ("chill_requirement_h", "chill_requirement_cp", "bacterial_spot", "note")


class Basis(NamedTuple):
    """What figures stand for: over all sites ("") or at one, of fruit as "picked" or at "equal" firmness."""

    site: str = ""
    ripeness: str = "picked"


@dataclass(frozen=True, eq=False)
class Catalogue:
    """Frames are named by their rows; those by cultivar have the index of ``cultivars``, sorted by name."""

    records_title: str
    region: str
    invented: bool
    version: str
    source: str
    problems: tuple[Problem, ...]
    cultivars: pd.DataFrame
    summaries: pd.DataFrame
    fruit: pd.DataFrame
    values: dict[str, pd.DataFrame]
    figures: dict[
        Basis, dict[str, pd.DataFrame]
    ]  # on every basis one can ask for; ``values`` on the usual one
    worth: dict[str, Worth]  # by trait: what stands behind the values
    equal: dict[str, Worth]  # the same at equal firmness
    picks: pd.DataFrame  # as seen, by days of visits
    windows: pd.DataFrame  # over the sites in an ordinary season; band: very early … very late
    ripening: Ripening
    sites: pd.DataFrame
    markets: dict[str, Market]
    south: bool
    checks: tuple[str, ...]  # the main check first
    market_problems: tuple[str, ...] = ()
    declared: tuple[str, ...] = ()  # how the readings were taken, in sentences
    currency: str = ""  # of every price; "" where none is declared
    records_tables: dict[str, pd.DataFrame] = field(default_factory=dict)
    relatives: Relatives | None = None  # who is bred from whom, where parents are on record
    shapes: pd.Series | None = None  # round or flat, where both are on record
    own_traits: tuple[str, ...] = ()  # worked out in a notebook (``brought``), and what its tables tell
    own_facts: Mapping[str, Fact] = field(default_factory=dict)


def load(folder: str | Path) -> Catalogue:
    """The catalogue of a folder of records, of one workbook, or of a store.

    Market profiles come with the package; a folder ``markets`` among or beside them adds to or replaces them.

    Parameters
    ----------
    folder : str or Path
        Where the records lie; a database's address, too.

    Returns
    -------
    Catalogue
        The same object for the same place, for as long as the process lasts; of a store for the same version of its data.

    Raises
    ------
    RecordError
        Nothing can be loaded; it lists every fault with its place.
    """
    return newest(folder, read_catalogue)


def read_catalogue(path: str | Path) -> Catalogue:
    """As ``load``, read anew."""
    records = read(path)
    own = [] if isinstance(path, str) else [(path if path.is_dir() else path.parent) / "markets"]
    markets, faults = read_markets(MARKETS, *(one for one in own if one.is_dir()))
    about = records.declaration
    return catalogue(
        records.tables["cultivars"],
        sample_summaries(records),
        fruit_values(records),
        sites=records.tables["sites"],
        markets=markets,
        tables={name: records.tables[name] for name in _CARRIED if name in records.tables}
        | {"photos": photographs(records.tables["samples"]), "hail": hail_noted(records.tables["samples"])},
        records_title=about.title or UNTITLED,
        region=about.region,
        invented=about.invented,
        version=records.version,
        source=records.source,
        problems=records.problems,
        market_problems=tuple(faults),
        declared=about.sentences,
        currency=about.currency,
        worked_out=partial(stored_worths, records.version),
    )


def catalogue(
    cultivars: pd.DataFrame,
    summaries: pd.DataFrame,
    fruit: pd.DataFrame,
    *,
    sites: pd.DataFrame,
    markets: Mapping[str, Market],
    tables: Mapping[str, pd.DataFrame] | None = None,
    records_title: str = "",
    region: str = "",
    invented: bool = False,
    version: str = "",
    source: str = "",
    problems: tuple[Problem, ...] = (),
    market_problems: tuple[str, ...] = (),
    declared: tuple[str, ...] = (),
    currency: str = "",
    worked_out: Callable[..., dict[str, Worth]] = estimates.worths,
) -> Catalogue:
    """Values, picks and windows of the cultivars in the tables.

    Parameters
    ----------
    cultivars, summaries, fruit, sites : DataFrame
        One row a cultivar, a sample, a fruit and a site; SI units (``records.summary``).
    markets : Mapping of str to Market
        By key.
    tables : Mapping of str to DataFrame, optional
        What is carried along: trees, bloom, yields, nursery, weather, photos.
    records_title, region, invented, version, source, currency : str or bool
        What the records say of themselves; ``invented``: whether they are made up.
    problems, market_problems, declared : tuple
        What was found wrong in the records and in the profiles, and how readings were taken, in sentences.
    worked_out : callable
        Gives what cultivars are worth, as ``estimates.worths`` does.

    Returns
    -------
    Catalogue
    """
    known = _by_name(cultivars, summaries)
    picked, days = picks(summaries), ripe_days(summaries)
    ripe, seen = ripening(days, known.index), windows(picked, known)
    seen[["first", "last"]] = windows(days, known)[["first", "last"]]
    check = seen.attrs["check"]
    marked = [name for name in known.index[known["check"].to_numpy()] if name != check]
    names = pd.CategoricalDtype(known.index)
    related, shapes = estimates.relatives_of(cultivars), estimates.shapes_of(cultivars)
    worth = worked_out(summaries, tuple(known.index[known["check"]]), related, shapes)
    figures = _figures(worth, known.index)
    return Catalogue(
        records_title=records_title,
        region=region,
        invented=invented,
        version=version,
        source=source,
        problems=problems,
        cultivars=known,
        summaries=summaries,
        fruit=fruit.assign(cultivar=fruit["cultivar"].astype(names)),  # shares are counted by code: fast
        values=figures[Basis()],
        figures=figures,
        worth={trait: worth[trait] for trait in TRAITS},
        equal={trait: worth[EQUAL_FIRMNESS.get(trait, trait)] for trait in TRAITS},
        picks=picked,
        windows=expected_windows(seen, ripe, check, "", "ordinary"),
        ripening=ripe,
        sites=sites,
        markets=dict(markets),
        south=_southern(sites),
        checks=((check,) if check else ()) + tuple(marked),
        market_problems=market_problems,
        declared=declared,
        currency=currency,
        records_tables=dict(tables or {}),
        relatives=related,
        shapes=shapes,
    )


def site_name(catalogue: Catalogue, site: Any) -> str:
    """The name a site goes by, or its key where it has none."""
    named = catalogue.sites.loc[(catalogue.sites["site"] == site).to_numpy(dtype=bool), "name"].dropna()
    return str(named.iloc[0]) if len(named) else str(site)


def with_market(catalogue: Catalogue, said: str | Path) -> tuple[Catalogue, str]:
    """The catalogue with the market that ``said`` names by key, title or file among its own, and its key; as ``market_called``."""
    profile = market_called(catalogue.markets, said, catalogue.own_traits)
    if catalogue.markets.get(profile.key) is profile:
        return catalogue, profile.key
    return replace(catalogue, markets={**catalogue.markets, profile.key: profile}), profile.key


def windows_at(catalogue: Catalogue, site: str = "", season_kind: str = "ordinary") -> pd.DataFrame:
    """``Catalogue.windows`` at a site, in a kind of season.

    Parameters
    ----------
    catalogue : Catalogue
    site : str
        Its key; "" is over all sites, as is one where nothing was picked.
    season_kind : str
        Kind of season: "early", "ordinary", "late" or "any".

    Returns
    -------
    DataFrame
        (cultivars,) rows in days of the season; without a model as seen, whatever was asked.
    """
    ripe = catalogue.ripening
    if ripe.refused or (ripe.known_site(site), season_kind) == ("", "ordinary"):
        return catalogue.windows
    return _windows_at(catalogue, ripe.known_site(site), season_kind)


@lru_cache(maxsize=64)
def _windows_at(catalogue: Catalogue, site: str, season_kind: str) -> pd.DataFrame:
    main = catalogue.checks[0] if catalogue.checks else ""
    return expected_windows(catalogue.windows, catalogue.ripening, main, site, season_kind)


def _by_name(cultivars: pd.DataFrame, summaries: pd.DataFrame) -> pd.DataFrame:
    """The cultivars sorted by name, those only sampled included; every column there, words filled in."""
    frame = cultivars.dropna(subset="cultivar").drop_duplicates("cultivar").set_index("cultivar")
    sampled = pd.Index(summaries["cultivar"].dropna().unique())
    index = frame.index.union(sampled).astype("str").sort_values().rename("cultivar")
    frame = frame.reindex(index)
    columns: dict[str, Any] = {}
    for name in WORDS:
        words = frame[name] if name in frame else pd.Series(index=index, dtype="str")
        columns[name] = words.astype("str").fillna(UNKNOWN)
    for name in _YES_NO:
        columns[name] = frame[name].eq(True).to_numpy(dtype=bool) if name in frame else False
    for name in (*_OTHER, *(one for one in PARENTS if one in frame and frame[one].notna().any())):
        columns[name] = frame[name] if name in frame else pd.Series(index=index, dtype="float")
    return pd.DataFrame(columns, index=index)


def _figures(worth: Mapping[str, Worth], index: pd.Index) -> dict[Basis, dict[str, pd.DataFrame]]:
    """The values of every trait over sites and at each site, as picked and at equal firmness, for all cultivars."""
    sites = dict.fromkeys(site for found in worth.values() for site in found.at)
    figures: dict[Basis, dict[str, pd.DataFrame]] = {}
    for ripeness in ("picked", "equal"):
        for site in ("", *sites):
            made = {}
            for trait in TRAITS:
                found = worth[EQUAL_FIRMNESS.get(trait, trait) if ripeness == "equal" else trait]
                made[trait] = for_all(
                    found.values if not site else found.at.get(site, found.values.iloc[:0]), index
                )
            figures[Basis(site, ripeness)] = made
    return figures


def for_all(values: pd.DataFrame, index: pd.Index) -> pd.DataFrame:
    """Values of every cultivar, those never sampled with NaN and counts of 0."""
    whole = values.reindex(index)
    counts = whole[list(COUNTS)].fillna(0).astype(int)
    method = str(values["method"].iloc[0]) if len(values) else METHOD
    return whole.assign(**counts, method=pd.Series(method, index=index, dtype="str"))


def _southern(sites: pd.DataFrame) -> bool:
    latitude = sites["latitude_deg"].dropna() if "latitude_deg" in sites else pd.Series(dtype=float)
    return bool((latitude < 0).mean() > 0.5) if len(latitude) else False
