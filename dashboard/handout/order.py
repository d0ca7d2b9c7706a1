"""An order of trees as text, comma-separated, as a workbook and on paper: a sheet for each nursery's post, and what it rests on."""

from __future__ import annotations

import io

import pandas as pd
import xlsxwriter

from dashboard.answers.ordered import Order
from dashboard.handout.blocks import Words
from dashboard.handout.layout import Section, printed
from dashboard.handout.paper import PAPERS
from dashboard.handout.tables import comma_separated, write_lines, write_rows
from dashboard.records.plain_text import AS_TEXT
from dashboard.terms.units import KG_PER_POUND
from dashboard.wording import ordering as words
from dashboard.wording.cautions import PROTECTED
from dashboard.wording.order_figures import dollars, pounds, share


def text(order: Order) -> str:
    """The answer first, then a nursery at a time, then the weeks."""
    told = [line for _, line in words.lines(order)]
    for nursery, lines in by_nursery(order):
        told += ["", nursery, *(f"  {line}" for line in lines)]
    told += ["", "Weeks", *(f"  {line}" for line in by_week(order))]
    return "\n".join([*told, "", *words.cautioned(order.wanted)]) + "\n"


def by_nursery(order: Order) -> list[tuple[str, list[str]]]:
    """Each nursery with what it costs there, and a line an offer."""
    told = []
    for nursery, rows in order.rows.groupby("nursery", sort=True):
        heading = f"{nursery}: {rows['trees'].sum():,} trees, {dollars(rows['cost'].sum())}"
        told.append((heading, [_offer_told(row) for row in rows.to_dict("records")]))
    return told


def _offer_told(row: dict) -> str:
    on = f" on {row['rootstock']}" if pd.notna(row["rootstock"]) else ""
    sum_ = f"{row['bundles']} × {row['bundle']} trees at ${row['price_per_tree']:,.2f} = ${row['cost']:,.2f}"
    guarded = f". {PROTECTED}" if row["protected"] else ""
    return f"{row['trees']:5,} {row['cultivar']}{on}: {sum_}{guarded}"


def by_week(order: Order) -> list[str]:
    return [
        f"{words.week_called(order, place)}: {pounds(row['kg'])} wanted; {share(row['fill'])} there on average, "
        f"{share(row['worst'])} in the worst fifth of seasons; in full in {share(row['fully'])} of seasons"
        for place, row in enumerate(order.weeks.to_dict("records"))
        if row["kg"] > 0
    ]


def table(order: Order) -> pd.DataFrame:
    """One row an offer that is ordered."""
    rows = order.rows
    return pd.DataFrame({
        "Nursery": rows["nursery"].astype(str), "Cultivar": rows["cultivar"], "Rootstock": rows["rootstock"].astype(str), "Bundles": rows["bundles"],
        "Trees in a bundle": rows["bundle"], "Trees": rows["trees"], "Price per tree ($)": rows["price_per_tree"], "Cost ($)": rows["cost"].round(2),
        "Protected": ["yes" if one else "no" for one in rows["protected"]], "Crops weighed": ["yes" if one else "no" for one in rows["weighed"]],
    })  # fmt: skip


def weeks(order: Order) -> pd.DataFrame:
    """One row a week."""
    rows = order.weeks
    return pd.DataFrame({
        "Week": [words.week_called(order, place) for place in range(len(rows))], "Wanted (lb)": (rows["kg"] / KG_PER_POUND).round(0),
        "There on average, %": (100 * rows["fill"]).round(1), "Error of that, %": (100 * rows["error"]).round(2),
        "In bad years (the worst fifth), %": (100 * rows["worst"]).round(1), "Seasons met in full, %": (100 * rows["fully"]).round(1),
    })  # fmt: skip


def csv(order: Order) -> bytes:
    """UTF-8 with a mark at the start, so that spreadsheets read the names right."""
    return comma_separated(table(order)).encode("utf-8-sig")


def said(order: Order) -> list[tuple[str, str]]:
    """What stands beside the tables: the whole, then the cautions."""
    return [*words.lines(order), *(("Caution", line) for line in words.cautioned(order.wanted))]


def xlsx(order: Order) -> bytes:
    """Three sheets: what is ordered, the weeks, and what is said of the whole."""
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, AS_TEXT) as book:
        write_rows(book, "order", table(order))
        write_rows(book, "weeks", weeks(order))
        write_lines(book, "answer", said(order))
    return out.getvalue()


def pdf(order: Order) -> bytes:
    """The order on paper, letter size."""
    title = f"Tree order for {words.buyers_called(order.wanted)}"
    blocks = [Words(title, size=15, bold=True, after=6, heading=True)]
    blocks += [Words(line, lead=f"{lead}:", size=9) for lead, line in words.lines(order)]
    for nursery, lines in by_nursery(order):
        blocks += [
            Words(nursery, size=10.5, bold=True, before=8, heading=True),
            *(Words(line.strip(), size=8.5) for line in lines),
        ]
    blocks += [
        Words("Weeks", size=10.5, bold=True, before=8, heading=True),
        *(Words(line, size=8.5) for line in by_week(order)),
    ]
    blocks += [Words(" ".join(words.cautioned(order.wanted)), size=7.5, quiet=True, before=8)]
    title_of = order.wanted.catalogue.records_title + (
        " (invented)" if order.wanted.catalogue.invented else ""
    )
    return printed([Section("order", "Order", tuple(blocks))], PAPERS["letter"], title, title_of, (title_of, words.CAUTIONED[0]))  # fmt: skip
