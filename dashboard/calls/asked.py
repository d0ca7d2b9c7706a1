"""A question that was asked of records, and its answers: what to plant, why, what else, when, and which set."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from dashboard.answers.ordering import trees_per_acre
from dashboard.answers.question import Question
from dashboard.calls import pictures
from dashboard.calls.choosing import chosen, named
from dashboard.calls.columns import columns_called, ranking_frame
from dashboard.calls.due import gaps_of, season_of
from dashboard.calls.ordered import ordered
from dashboard.calls.planned import planned
from dashboard.calls.resting import cautions, evidence, passing_told
from dashboard.calls.set_beside import comparison, near_ones, reasons
from dashboard.calls.table import Table, answered
from dashboard.calls.understood import AskError, as_written, number, several, whole, yes_or_no
from dashboard.wording.figures import choices_told
from dashboard.wording.order import first_told, order_told
from dashboard.wording.ordering import ALONE, VARY

FURTHEST = 60  # days that a stand-in may ripen apart
Names = str | Iterable[str]


@dataclass(frozen=True, repr=False)
class Asked:
    """What is asked of records: a buyer, filters, a site, a kind of season. Made by ``Records.ask``; it never changes.

    Its answers are worked out when they are called for, once for all who ask the same, the page's visitors among them.
    """

    question: Question

    def __repr__(self) -> str:
        return f"<Asked of {self.question.catalogue.records_title}: {self.told}>"

    def _repr_html_(self) -> str:
        return self.ranking()._repr_html_()

    @property
    def told(self) -> str:
        """What is asked, in words."""
        asked = self.question
        buyer = asked.profile.name if asked.profile else "any buyer"
        return "; ".join([buyer, *choices_told(asked)])

    def but(self, **changes: Any) -> Asked:
        """The same question with some choices changed.

        Parameters
        ----------
        **changes : Any
            As ``Records.ask`` takes them; None takes a choice back.

        Returns
        -------
        Asked

        Raises
        ------
        AskError
            A name, a value or a unit that is not there, with the nearest that is.
        """
        return Asked(chosen(self.question, changes))

    def ranking(self, columns: Names = ()) -> Table:
        """The cultivars that pass the filters: those that qualify for the buyer first, each by score.

        Parameters
        ----------
        columns : str or list of str
            Columns beside the usual ones, such as "class", "winter_chill", "price" or a trait; "all" for every one.

        Returns
        -------
        Table
            One row a cultivar. With a buyer: rank, verdict, score (0 to 100) and the chance that all limits hold (%). Then the usual
            first and last pick, estimates with the ends of their 90 % interval, and how many seasons, sites, samples and fruit it rests on.

        Raises
        ------
        AskError
            A column that is not there.
        """
        asked = self.question
        frame, headings = ranking_frame(asked, asked.ranking, columns_called(columns))
        answer, more = first_told(asked)
        said = [f"{answer}; {more}.", *order_told(asked)] if len(frame) else [passing_told(asked)]
        return self._answered(frame, said, headings, pictures.tradeoff)

    def why(self, name: str) -> Table:
        """What the buyer says of one cultivar and why: each limit with its chance, and what each wish costs.

        Parameters
        ----------
        name : str
            A cultivar, whether or not it passes the filters.

        Returns
        -------
        Table
            One row a limit and a wish of the market; without a market the sentences alone.

        Raises
        ------
        AskError
            A cultivar that is not there.
        """
        frame, said, headings = reasons(replace(self.question, cultivar=self._named(name)))
        return self._answered(frame, said, headings, None, dated=False)

    def compare(self, *names: str) -> Table:
        """Two to six cultivars side by side: every trait, time of picking, and what really differs.

        Parameters
        ----------
        *names : str
            Cultivars.

        Returns
        -------
        Table
            One row a cultivar, in the order asked. The sentences tell the differences that hold after looking at all of them.

        Raises
        ------
        AskError
            A cultivar that is not there, or fewer than two or more than six of them.
        """
        found = self._several(names)
        if not 2 <= len(found) <= 6:
            raise AskError(f"Name two to six cultivars to compare; {len(found)} were named.")
        frame, said, headings = comparison(replace(self.question, beside=found))
        return self._answered(frame, said, headings, pictures.calendar)

    def stand_ins(self, name: str, days: int = 7) -> Table:
        """Who could take the place of a cultivar: the same class, ripe within some days of it, the nearest fruit first.

        Parameters
        ----------
        name : str
            The cultivar whose place is to be taken.
        days : int
            How many days earlier or later a stand-in may ripen, 0 to 60.

        Returns
        -------
        Table
            One row a stand-in, six at most: days later, and what changes in each trait that counts, with how sure that is (%).

        Raises
        ------
        AskError
            A cultivar that is not there, or no whole number of days.
        """
        apart = whole(days, "The number of days", 0, FURTHEST)
        frame, said, headings = near_ones(replace(self.question, cultivar=self._named(name), apart=apart))
        return self._answered(frame, said, headings, pictures.calendar, dated=False)

    def season(self, of: Names | None = None) -> Table:
        """When each cultivar is picked.

        Parameters
        ----------
        of : str or list of str, optional
            These cultivars; without, those that pass the filters and have a recorded pick.

        Returns
        -------
        Table
            One row a cultivar, the earliest first: first and last pick as dates, between which days they surely lie, days from the check.

        Raises
        ------
        AskError
            A cultivar that is not there.
        """
        frame, said, headings = season_of(self.question, None if of is None else self._several(of))
        return self._answered(frame, said, headings, pictures.calendar)

    def gaps(self, of: Names | None = None) -> Table:
        """The days of the season on which too seldom any of a set is being picked.

        Parameters
        ----------
        of : str or list of str, optional
            The set; without, the slate that was asked for, or while that is empty all that qualify or may.

        Returns
        -------
        Table
            One row a gap: first and last day, the chance of fruit on its worst day, how many days stay without fruit, and who would help.

        Raises
        ------
        AskError
            A cultivar that is not there.
        """
        asked = self.question if of is None else replace(self.question, shortlist=self._several(of))
        frame, said, headings = gaps_of(asked)
        return self._answered(frame, said, headings, pictures.cover, of=asked)

    def plan(
        self, opens: Any = None, closes: Any = None, *, most: int | None = None, keep: Names = (), never: Names = (), offered: bool = False
    ) -> Table:  # fmt: skip
        """The fewest cultivars that fill a selling season, for the buyer and out of what passes the filters.

        Parameters
        ----------
        opens, closes : date or str, optional
            First and last selling day, such as "Jun 10"; the season's own without.
        most : int, optional
            So many cultivars at most; then they cover as many days as they can.
        keep, never : str or list of str
            Cultivars that are to be in it, and that are not.
        offered : bool
            Only cultivars that a nursery offers.

        Returns
        -------
        Table
            One row a cultivar, in order of picking, with the reason for it. The sentences tell what is covered, what is not, and what would help.

        Raises
        ------
        AskError
            A cultivar or a day that is not there, or nothing that could be planned.
        """
        asked = chosen(self.question, {name: day for name, day in (("opens", opens), ("closes", closes)) if day is not None})  # fmt: skip
        size = None if most is None else whole(most, "The most cultivars", 1)
        frame, said, headings = planned(
            asked, size, self._several(keep), self._several(never), yes_or_no(offered, "offered")
        )
        return self._answered(frame, said, headings, pictures.calendar)

    def order(
        self, each: str, opens: str, closes: str, *, acres: float | None = None, spacing: str = "18x18", most: int | None = None, seconds: float = 60
    ) -> Table:  # fmt: skip
        """How many trees of which cultivar fill the buyer's weeks at the least cost, from the slate or, while that is empty, from all the buyer takes.

        Parameters
        ----------
        each : str
            Fruit wanted each week: "800 lb", "350 kg" or "20 bushels" of 48 lb.
        opens, closes : str
            First and last day, such as "Jun 10".
        acres : float, optional
            Land there is; without, what the order takes.
        spacing : str
            Feet between rows by feet between trees.
        most, seconds : int and float
            So many cultivars at most; how long to search, 1 to 3600.

        Returns
        -------
        Table
            One row a cultivar: trees, cost ($), nurseries, protected. The sentences tell what is promised, how near the least cost it is proven
            to be, what other seasons do to it, and what would help where not all can be promised.

        Raises
        ------
        AskError
            No buyer, an amount or a day that cannot be read, or nothing that can be ordered.
        """
        land = None if acres is None else number(acres, "The land in acres", 0.01, 1e6)
        size = None if most is None else whole(most, "The most cultivars", 1)
        with as_written():
            per_acre = trees_per_acre(spacing)
        frame, said, headings = ordered(
            self.question,
            each,
            opens,
            closes,
            land,
            per_acre,
            size,
            number(seconds, "The time in seconds", 1, 3600),
        )
        return self._answered(frame, [*said, VARY, ALONE], headings, None)

    def _answered(
        self, frame: Any, said: Iterable[str], headings: Any, drawn: Callable[..., Any] | None, dated: bool = True, of: Question | None = None
    ) -> Table:  # fmt: skip
        asked = of or self.question
        return answered(
            frame, said=said, evidence=evidence(asked, dated), cautions=cautions(asked.catalogue), headings=headings,
            drawn=partial(drawn, asked) if drawn else None,
        )  # fmt: skip

    def _named(self, name: Any) -> str:
        return named(self.question.catalogue, name)

    def _several(self, names: Any) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self._named(name) for name in several(names, "cultivar")))
