"""How many trees of which cultivar, a row a cultivar."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pandas as pd

from dashboard.answers.demand import amount_kg, evenly
from dashboard.answers.order_choices import trees_per_acre
from dashboard.answers.ordered import settled
from dashboard.answers.ordering import OrderWanted
from dashboard.answers.question import Question
from dashboard.answers.selling import backwards
from dashboard.calls.at_site import at_place
from dashboard.calls.choices import day_number
from dashboard.calls.columns import Found, Told
from dashboard.calls.resting import cautions_of, evidence
from dashboard.calls.table import Table, answered
from dashboard.calls.understood import AskError, as_written, number, plainly, text, whole
from dashboard.wording.ordering import ALONE, SHARED, VARY, lines

COLUMNS = ("trees", "cost_usd", "nurseries", "protected")  # of an order


class Orders:
    """What is asked of a question for how many trees to order."""

    question: Question

    @plainly
    def order(
        self, each: str, opens: Any, closes: Any, *, acres: float | None = None, spacing: str = "18x18", most: int | None = None, most_share: float = 100, money: float | None = None, place: str = "", higher: float = 0, weather: str = "", second_each: str | None = None, seconds: float = 60
    ) -> Table:  # fmt: skip
        """How many trees of which cultivar fill the buyer's weeks at the least cost, from the slate or, while that is empty, from all the buyer takes.

        Parameters
        ----------
        each : str
            Fruit wanted each week: "800 lb", "350 kg" or "20 bushels" of 48 lb.
        opens, closes : date or str
            First and last day, such as "Jun 10".
        acres : float, optional
            Land there is; without, what the order takes.
        spacing : str
            Feet between rows by feet between trees.
        most : int, optional
            So many cultivars at most.
        most_share : float
            Of the trees, what one cultivar has at the most, in per cent.
        money : float, optional
            Dollars for trees: as much fruit as they buy, in place of a promise for each week. Not together with ``most``.
        place : str
            A site of the records where the trees are to stand: its winters and frosts take from their crops. Without, the site of the question.
        higher : float
            Meters by which the trees stand above it; below it, a negative number.
        weather : str
            A .csv file of the place's own days, as ``ask.site`` takes it.
        second_each : str, optional
            Fruit that ``second_market`` of the question wants each week; without, the trees are for the first buyer alone.
        seconds : float
            How long to search, 1 to 3600.

        Returns
        -------
        Table
            One row a cultivar: trees, cost ($), nurseries, protected. The sentences tell what is promised, how near the least cost it is proven
            to be, what other seasons do to it, and what would help where not all can be promised.

        Raises
        ------
        AskError
            No buyer, an amount or a day that cannot be read, no weather at the place, or nothing that can be ordered.
        """
        land = None if acres is None else number(acres, "The land in acres", 0.01, 1e6)
        size = None if most is None else whole(most, "The most cultivars", 1)
        dollars = None if money is None else number(money, "The money in dollars", 1, 9e7)
        largest = number(most_share, "The largest share in per cent", 1, 100) / 100
        time = number(seconds, "The time in seconds", 1, 3600)
        with as_written():
            per_acre = trees_per_acre(text(spacing, "The spacing", "18x18"))
        asked, remarks = placed(self.question, place, higher, weather)
        frame, said, headings = ordered(
            asked, each, second_each, opens, closes, land, per_acre, size, largest, dollars, time
        )
        return answered(
            frame, said=[*remarks, *said, VARY, ALONE if second_each is None else SHARED], evidence=evidence(asked), cautions=cautions_of(asked), headings=headings
        )  # fmt: skip


def placed(asked: Question, name: str, higher: Any, weather: str) -> tuple[Question, list[str]]:
    """The same question for trees at that place, and what was set aside of its file."""
    if not (name or higher or weather):
        return asked, []
    here, remarks = at_place(asked, name, higher, weather)
    if here.bloom_refused:
        raise AskError(here.bloom_refused)
    return replace(asked, weather=here), remarks


def ordered(
    asked: Question, each: str, second_each: str | None, first: Any, last: Any, acres: float | None, per_acre: float, most: int | None, most_share: float, money: float | None, seconds: float
) -> Found:  # fmt: skip
    """For the buyer of the question, out of its slate or of all; AskError, one sentence, where nothing can be ordered."""
    if asked.profile is None:
        raise AskError('Say who buys, for example load(folder).ask("Roadside stand").order("800 lb", "Jun 10", "Aug 31").')  # fmt: skip
    if second_each is not None and asked.second_buyer is None:
        raise AskError('Say who else buys: give ask a second_market, such as "Packer".')  # fmt: skip
    south = asked.catalogue.south
    days = day_number(asked.catalogue, first), day_number(asked.catalogue, last)
    if wrong_way := backwards(*days, south):
        raise AskError(wrong_way)
    with as_written():
        wanted, also = (
            None if said is None else evenly(amount_kg(text(said, "Fruit wanted each week", "800 lb")), *days)
            for said in (text(each, "Fruit wanted each week", "800 lb"), second_each)
        )
        assert wanted is not None
        found = settled(
            OrderWanted(
                asked.catalogue, asked.profile, wanted, asked.shortlist, asked.basis,
                asked.season_kind, acres=acres, trees_per_acre=per_acre, most_cultivars=most,
                as_much=money is not None, money=money, most_share=most_share, place=asked.place_of_trees, second=None if also is None else asked.second_buyer, also=also,
            ),
            seconds,
        )  # fmt: skip
        said = [line for _, line in lines(found)]  # other seasons are drawn for them
    by = found.rows.groupby("cultivar", sort=True)
    told, index = Told(), pd.Index(list(by.groups), dtype="str")
    told.add("trees", by["trees"].sum().to_list(), "Trees", 0)
    told.add("cost_usd", by["cost"].sum().to_list(), "Cost ($)", 2)
    told.add("nurseries", by["nursery"].agg(lambda rows: ", ".join(sorted(set(rows.astype(str))))).to_list())
    told.add("protected", by["protected"].any().to_list(), "Protected")
    return told.frame(index), said, told.headings
