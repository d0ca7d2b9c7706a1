"""A question that was asked of records, and its answers: what to plant, why, what else, when, and which set."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import Any

from dashboard.answers.question import Question
from dashboard.calls import pictures
from dashboard.calls.at_site import AtSite
from dashboard.calls.choosing import chosen, named
from dashboard.calls.columns import columns_called, ranking_frame
from dashboard.calls.due import gaps_of, season_of
from dashboard.calls.ordered import Orders
from dashboard.calls.planned import planned
from dashboard.calls.resting import cautions_of, evidence, passing_told
from dashboard.calls.set_beside import comparison, near_ones, reasons
from dashboard.calls.table import Table, answered
from dashboard.calls.understood import AskError, plainly, several, whole, yes_or_no
from dashboard.wording.figures import choices_told
from dashboard.wording.order import first_told, order_told

FURTHEST = 60  # days that a stand-in may ripen apart
Names = str | Iterable[str]


@dataclass(frozen=True, repr=False)
class Asked(AtSite, Orders):
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

    @plainly
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
            first and last pick, estimates with the ends of their likely range (90 %), and how many seasons, sites, samples and fruit it rests on.

        Raises
        ------
        AskError
            A column that is not there.
        """
        return _told(_ranking, self.question, columns_called(self.question.catalogue, columns))

    @plainly
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
        return _told(_why, replace(self.question, cultivar=self._named(name)))

    @plainly
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
        return _told(_compare, replace(self.question, beside=found))

    @plainly
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
        return _told(_stand_ins, replace(self.question, cultivar=self._named(name), apart=apart))

    @plainly
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
        return _told(_season, self.question, None if of is None else self._several(of))

    @plainly
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
        return _told(
            _gaps, self.question if of is None else replace(self.question, shortlist=self._several(of))
        )

    @plainly
    def plan(
        self, opens: Any = None, closes: Any = None, *, most: int | None = None, keep: Names = (), never: Names = (), offered: bool | None = None
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
        offered : bool, optional
            Only cultivars that a nursery offers now; without it that is so where the records hold offers.

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
        sets = self._several(keep), self._several(never)
        sold = None if offered is None else yes_or_no(offered, "offered")
        return _told(_plan, self.question, asked, size, *sets, sold)

    def _named(self, name: Any) -> str:
        return named(self.question.catalogue, name)

    def _several(self, names: Any) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self._named(name) for name in several(names, "cultivar")))


def _told(answer: Callable[..., Table], asked: Question, *more: Any) -> Table:
    """An answer of its own for whoever asks; what one asked, the next has at hand. Evidence tells the day."""
    return _remembered(answer, asked, dt.date.today(), *more).copy()


@lru_cache(maxsize=64)
def _remembered(answer: Callable[..., Table], asked: Question, _today: dt.date, *more: Any) -> Table:
    return answer(asked, *more)


def _ranking(asked: Question, columns: tuple[str, ...]) -> Table:
    frame, headings = ranking_frame(asked, asked.ranking, columns)
    answer, more = first_told(asked)
    said = [f"{answer}; {more}.", *order_told(asked)] if len(frame) else [passing_told(asked)]
    return _answered(asked, frame, said, headings, pictures.tradeoff)


def _why(asked: Question) -> Table:
    return _answered(asked, *reasons(asked), None, dated=False)


def _compare(asked: Question) -> Table:
    return _answered(asked, *comparison(asked), pictures.calendar)


def _stand_ins(asked: Question) -> Table:
    return _answered(asked, *near_ones(asked), pictures.calendar, dated=False)


def _season(asked: Question, of: tuple[str, ...] | None) -> Table:
    return _answered(asked, *season_of(asked, of), pictures.calendar)


def _gaps(asked: Question) -> Table:
    return _answered(asked, *gaps_of(asked), pictures.cover)


def _plan(asked: Question, selling: Question, *rules: Any) -> Table:
    return _answered(asked, *planned(selling, *rules), pictures.calendar)


def _answered(
    asked: Question,
    frame: Any,
    said: Iterable[str],
    headings: Any,
    drawn: Callable[..., Any] | None,
    dated: bool = True,
) -> Table:
    return answered(
        frame, said=said, evidence=evidence(asked, dated), cautions=cautions_of(asked), headings=headings,
        drawn=partial(drawn, asked) if drawn else None,
    )  # fmt: skip
