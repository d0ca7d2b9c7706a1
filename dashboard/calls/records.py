"""Records that were loaded: what they hold, who is called so, every fruit and every estimate, and the questions asked of them."""

from __future__ import annotations

import os
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import pandas as pd

from dashboard.answers import catalogue as catalogues
from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import Question
from dashboard.calls import choices, pictures
from dashboard.calls.asked import Asked
from dashboard.calls.brought import Bringing
from dashboard.calls.choosing import ANYWAY, chosen, named, site
from dashboard.calls.columns import AMERICAN, Told, column_of
from dashboard.calls.resting import cautions, rests_on
from dashboard.calls.table import Table, answered
from dashboard.calls.understood import AskError, plainly, shown, word
from dashboard.calls.worths import Worths, measured, worked_out
from dashboard.places import FOLDER, demo_data
from dashboard.records.names import found
from dashboard.terms.traits import FRUIT_TRAITS, TRAITS, trait_called
from dashboard.wording.figures import counted, records_name, sampled

_FACTS = {"chill_requirement_h": "chill_hours", "chill_requirement_cp": "chill_portions"}


@dataclass(frozen=True, repr=False, eq=False)
class Records(Bringing):
    """Trial records, read and checked once a process and shared with the page. Made by ``load``; they never change."""

    catalogue: Catalogue

    def __repr__(self) -> str:
        known = self.catalogue
        return (
            f"<Records: {records_name(known)}, {sampled(known)}, {counted(len(known.summaries), 'sample')}>"
        )

    def _repr_html_(self) -> str:
        return self.markets._repr_html_()

    @plainly
    def ask(
        self,
        market: Any = None,
        *,
        units: str = "us",
        site: str | None = None,
        year: str | None = None,
        **filters: Any,
    ) -> Asked:
        """A question to the records: for which buyer, where, out of which cultivars.

        Parameters
        ----------
        market : str, Path or dict, optional
            Who buys: a market's key or title, a profile's file, or a dict of limits and wishes in the words of such a file. Without,
            nobody is ranked.
        units : str
            "us" (inches, pounds-force, pounds) or "si" (mm, newtons, kg).
        site : str, optional
            A site's key or name, for figures there; over all sites without.
        year : str, optional
            Kind of season for dates and cover: "early", "ordinary", "late" or "any"; any without.
        **filters : Any
            Filters, each one value or a list of them, and what else is listed under "What can be asked for".

        Returns
        -------
        Asked

        Raises
        ------
        AskError
            A name, a value or a unit that is not there, with the nearest that is.
        MarketError
            A market that cannot be used, with the word that is wrong.
        """
        known = {"market": market, "units": units, "site": site, "year": year}
        return Asked(chosen(Question(self.catalogue, **ANYWAY), {**known, **filters}))

    @plainly
    def find(self, text: str) -> tuple[str, ...]:
        """Cultivars by part of a name; capitals, hyphens and accents are free, and one letter may be wrong.

        Parameters
        ----------
        text : str
            Part of the name, as "aldr".

        Returns
        -------
        tuple of str
            The likeliest first; empty where none is called so.

        Raises
        ------
        AskError
            Something that is no text.
        """
        if not isinstance(text, str):
            raise AskError(f"Write part of a name in quotation marks, not {shown(text)}.")
        return found(text, tuple(self.catalogue.cultivars.index))

    @plainly
    def fruit(self, name: str, units: str = "us") -> Table:
        """Every fruit that was measured of a cultivar.

        Parameters
        ----------
        name : str
            A cultivar.
        units : str
            "us" or "si".

        Returns
        -------
        Table
            One row a fruit, by date: site, date and season of its sample, then its traits.

        Raises
        ------
        AskError
            A cultivar or a system of units that is not there.
        """
        called, system = named(self.catalogue, name), choices.system(units)
        rows = self.catalogue.fruit[(self.catalogue.fruit["cultivar"] == called).to_numpy()]
        days = self.catalogue.summaries.set_index("sample")["date"]
        told = Told()
        told.add("sample", rows["sample"].astype(str))
        told.add("site", rows["site"].astype(str))
        told.add("date", rows["sample"].map(days))
        told.add("season", rows["season"].astype(int))
        for key in FRUIT_TRAITS:
            trait = TRAITS[key]
            values = trait.unit(system).from_si(rows[key].astype(float))
            told.add(column_of(trait, system), values, trait.heading(system), trait.decimals(system))
        frame = pd.DataFrame(told.columns).sort_values(["date", "sample"], kind="stable", ignore_index=True)
        said = [f"{len(frame):,} measured fruit of {called}."]
        return self._answered(frame, said, told, [])

    @plainly
    def estimates(self, trait: str, units: str = "us", site: str | None = None) -> Table:
        """What every cultivar is worth in one trait, once year, site and luck are taken out as far as the records show them.

        Parameters
        ----------
        trait : str
            Its key or its label, such as "sugar".
        units : str
            "us" or "si".
        site : str, optional
            At this site; over all sites without.

        Returns
        -------
        Table
            One row a cultivar with a reading, the highest first: the estimate, the ends of its likely range (90 %), its standard error,
            reliability (0 to 1), and how many fruit, samples, sites and seasons it rests on.

        Raises
        ------
        AskError
            A trait, a site or a system of units that is not there.
        """
        key, system = trait_key(self.catalogue, trait), choices.system(units)
        return self._worths(measured(self.catalogue, key, system, _site(self.catalogue, site)))

    @plainly
    def derive(self, name: str, formula: str, units: str = "us") -> Table:
        """What every cultivar is worth in a trait of your own, which a formula gives for each sample.

        Parameters
        ----------
        name : str
            What it is called, such as "sugar to firmness".
        formula : str
            Traits by their keys, numbers, + - * / and brackets, such as "sugar / firmness"; of the means of a sample.
        units : str
            The units that its traits are taken in, "us" or "si".

        Returns
        -------
        Table
            As ``estimates``: the model takes year, site and luck out of the samples' values, and tells the error.

        Raises
        ------
        AskError
            A name or a formula that cannot be used, with the trait that is nearest.
        """
        return self._worths(worked_out(self.catalogue, name, formula, choices.system(units)))

    def _worths(self, found: Worths) -> Table:
        drawn = partial(pictures.intervals, found.column)
        return self._answered(found.frame, [found.said], found.told, found.evidence, drawn)

    @property
    def markets(self) -> Table:
        """The markets that can be asked for: key, title and what they want.

        Returns
        -------
        Table
            One row a market, by key.
        """
        every = self.catalogue.markets
        frame = pd.DataFrame(
            {
                "title": [one.name for one in every.values()],
                "summary": [one.summary for one in every.values()],
            },
            index=pd.Index(list(every), name="market", dtype="str"),
        )
        said = [f"{records_name(self.catalogue)}: {counted(len(every), 'market')} to ask for."]
        return self._answered(frame, said, Told(), [])

    @property
    def cultivars(self) -> Table:
        """What is recorded of each cultivar beside its fruit: class, status, winter chill needed, bacterial spot.

        Returns
        -------
        Table
            One row a cultivar, by name.
        """
        frame = self.catalogue.cultivars.rename(columns=AMERICAN | _FACTS)
        said = [f"{counted(len(frame), 'cultivar')} in {records_name(self.catalogue)}."]
        return self._answered(frame, said, Told(), [])

    @property
    def problems(self) -> tuple[str, ...]:
        """What was found wrong in the records and the market profiles, a sentence each.

        Returns
        -------
        tuple of str
        """
        known = self.catalogue
        return (*(one.sentence for one in known.problems), *known.market_problems)

    def _answered(
        self, frame: pd.DataFrame, said: list[str], told: Told, evidence: list[str], drawn: Any = None
    ) -> Table:
        known = self.catalogue
        return answered(
            frame, said=said, evidence=[*evidence, rests_on(known)], cautions=cautions(known), headings=told.headings, drawn=drawn
        )  # fmt: skip


@plainly
def load(folder: str | Path | None = None) -> Records:
    """Read and check a folder of records, or one workbook; the second time in a process it is at hand.

    Parameters
    ----------
    folder : str or Path, optional
        A folder of .csv tables, or one .xlsx. Without, those a server was started with, or the invented demo records.

    Returns
    -------
    Records

    Raises
    ------
    RecordError
        Nothing can be loaded; it lists every fault with its place.
    AskError
        Something that is no path.
    """
    if folder is None:
        folder = os.environ.get(FOLDER) or demo_data()
    if not isinstance(folder, str | Path) or not str(folder).strip():
        raise AskError(f"Records are named by the path of a folder or a workbook, not by {shown(folder)}.")
    return Records(catalogues.load(folder))


def trait_key(catalogue: Catalogue, said: Any) -> str:
    """The key of a trait named by key or label; AskError with the nearest."""
    every = (*TRAITS, *catalogue.own_traits)
    return word(said, {key: key for key in every} | {trait_called(key).label: key for key in every}, "trait")


_site = site  # the parameter of that name hides it
