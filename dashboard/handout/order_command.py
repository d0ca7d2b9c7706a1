"""``orchard-slate order``: its options, and the order of trees that they ask for, on the screen or in a file."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from dashboard.handout.plan_command import DAY, ENDINGS

if TYPE_CHECKING:
    from dashboard.answers.catalogue import Catalogue
    from dashboard.answers.ordering import OrderWanted


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    add = parser.add_argument
    add("source", metavar="FOLDER|FILE")
    add("--market", metavar="KEY|TITLE|FILE", required=True, help="a market's key, its title as on the page, or a profile (.toml)")  # fmt: skip
    add("--slate", metavar="FILE|A,B,C", default="", help="cultivars to choose from, or a text file with a name a line (default: all the buyer takes)")  # fmt: skip
    add("--demand", metavar="FILE", default="", help="fruit wanted by week: a .csv with week,amount,unit")
    add("--each", metavar="AMOUNT", default="", help='fruit wanted each week, as "800 lb", "350 kg" or "20 bushels"')  # fmt: skip
    add("--from", metavar="D", dest="first", default="", help=f"with --each, the first day, {DAY}")
    add("--to", metavar="D", dest="last", default="", help="with --each, the last day")
    add("--second", metavar="KEY|TITLE|FILE", default="", help="another buyer of the same trees, as --market")
    add("--second-demand", metavar="FILE", default="", help="fruit that buyer wants by week, as --demand")
    add("--second-each", metavar="AMOUNT", default="", help="fruit that buyer wants each week, over the days of --from and --to")  # fmt: skip
    add("--bushel", metavar="LB", type=float, default=48.0, help="what a bushel weighs, in pounds (default: 48)")  # fmt: skip
    add("--acres", metavar="A", type=float, help="land there is (default: what the order takes)")
    add("--spacing", metavar="RxT", default="18x18", help="feet between rows and between trees (default: 18x18)")  # fmt: skip
    add("--bears", metavar="LB", type=float, help="pounds a tree in full bearing, where yours bear otherwise than the records say")  # fmt: skip
    add("--price", metavar="USD", type=float, help="a tree's price where no nursery's offer is known (default: what is not on offer is left out)")  # fmt: skip
    add("--met", metavar="PCT", type=float, default=95.0, help="of each week's fruit there on average, %% (default: 95)")  # fmt: skip
    add("--worst", metavar="PCT", type=float, default=70.0, help="and in the worst fifth of seasons, %% (default: 70)")  # fmt: skip
    add("--money", metavar="USD", type=float, help="as much fruit as this buys, in place of promises for each week")  # fmt: skip
    add("--most", metavar="N", type=int, help="cultivars at most")
    add("--most-share", metavar="PCT", type=float, default=100.0, help="of the trees, what one cultivar has at the most, %% (default: any share)")  # fmt: skip
    add("--lot", metavar="N", type=int, default=0, help="trees at least of a cultivar that is ordered")
    add("--seconds", metavar="S", type=float, default=60.0, help="to search (default: 60)")
    add("--site", metavar="S", default="", help="ripening and figures at this site (default: over sites)")
    add("--place", metavar="S", default="", help="a site with weather where the trees are to stand: its winters and frosts take from their crops (default: that of --site)")  # fmt: skip
    add("--higher", metavar="M", type=int, default=0, help="meters my place lies above that; below, as -60")
    add("--weather", metavar="FILE", default="", help="a .csv of my own: date, tmin_c, tmax_c")
    add("--out", metavar="FILE", default="", help="where to write the .txt, .csv, .xlsx or .pdf (default: the screen)")  # fmt: skip


def told(options: argparse.Namespace) -> str:
    """The order as text, or what was written, in one line. ValueError, one sentence, for what cannot be followed or ordered."""
    from dashboard.answers.catalogue import load
    from dashboard.answers.ordered import settled
    from dashboard.handout import order as paper
    from dashboard.places import put
    from dashboard.wording.ordering import answer_told, progress_told

    place = Path(options.out) if options.out else None
    if place is not None and place.suffix.lower() not in ENDINGS:
        raise ValueError(
            f"{place}: an order's name ends in .txt, .csv, .xlsx or .pdf, for example order.pdf."
        )
    if place is not None and place.resolve() in {
        Path(one).resolve()
        for one in (options.source, options.demand, options.second_demand, options.slate, options.weather)
        if one
    }:
        raise ValueError(f"{place}: is what the order is made from; name another file.")
    if not 1 <= options.seconds <= 3600:
        raise ValueError(f"--seconds {options.seconds:g}: is a number from 1 to 3600, for example 60.")
    asked = wanted(load(options.source), options)
    found = settled(
        asked, options.seconds, progress=lambda now: print(progress_told(now), file=sys.stderr, flush=True)
    )
    if place is None:
        return paper.text(found)
    ending = place.suffix.lower()
    made = (
        paper.csv(found) if ending == ".csv"
        else paper.xlsx(found) if ending == ".xlsx"
        else paper.pdf(found) if ending == ".pdf"
        else paper.text(found).encode("utf-8")
    )  # fmt: skip
    put(place, made)
    return f"{place} written. {answer_told(found)}\n"


def wanted(catalogue: Catalogue, options: argparse.Namespace) -> OrderWanted:
    """What the options ask for. MarketError or ValueError, one sentence, for what is not there."""
    from dashboard.answers.catalogue import Basis, with_market
    from dashboard.answers.demand import alongside, each_week, read_demand
    from dashboard.answers.order_choices import trees_per_acre
    from dashboard.answers.ordering import OrderWanted
    from dashboard.answers.standing import profile
    from dashboard.handout.asking import known_site, names_of
    from dashboard.handout.site_table import standing_at
    from dashboard.terms.units import KG_PER_POUND

    if bool(options.demand) == bool(options.each):
        raise ValueError('Say how much fruit is wanted, one way: --demand FILE, or --each "800 lb" --from D --to D.')  # fmt: skip
    amounts = [one for one in (options.second_demand, options.second_each) if one]
    if len(amounts) != bool(options.second):
        raise ValueError('Name a second buyer and what he wants: --second KEY, and --second-each "400 lb" or --second-demand FILE.')  # fmt: skip
    if (options.each or options.second_each) and not (options.first and options.last):
        raise ValueError("So much each week needs --from and --to, for example --from Jun 10 --to Aug 31.")
    for name, number in (
        ("--met", options.met),
        ("--worst", options.worst),
        ("--most-share", options.most_share),
    ):
        if not (0 if name == "--worst" else 1) <= number <= 100:
            raise ValueError(f"{name} {number:g}: is a share in per cent, up to 100, for example 90.")
    for name, number in (("--most", options.most), ("--lot", options.lot or None), ("--bushel", options.bushel)):  # fmt: skip
        if number is not None and not 1 <= number <= 100_000:
            raise ValueError(f"{name} {number:g}: is a number from 1 to 100,000; leave it out for the usual.")
    for name, number in (("--bears", options.bears), ("--price", options.price)):
        if number is not None and not 0.01 <= number <= 2000:
            raise ValueError(f"{name} {number:g}: is a number from 0.01 to 2,000; leave it out for what the records say.")  # fmt: skip
    if options.money is not None and not 1 <= options.money <= 9e7:
        raise ValueError(f"--money {options.money:g}: is an amount in dollars from 1 to 90,000,000, for example 4000.")  # fmt: skip
    catalogue, key = with_market(catalogue, options.market)
    south, site = catalogue.south, known_site(catalogue, options.site)
    remarks: list[str] = []
    place = standing_at(catalogue, options.place, options.higher, options.weather, site, remarks)
    for remark in remarks:
        print(remark, file=sys.stderr)
    demand = (
        read_demand(options.demand, south, options.bushel) if options.demand
        else each_week(options.each, options.first, options.last, south, options.bushel)
    )  # fmt: skip
    second = also = None
    if options.second:
        catalogue, other = with_market(catalogue, options.second)
        if other == key:
            raise ValueError(f"--second {options.second}: is the first buyer again; name another market.")
        second = profile(catalogue, other, (), place.winters if place else None)
        demand, also = alongside(demand, (
            read_demand(options.second_demand, south, options.bushel) if options.second_demand
            else each_week(options.second_each, options.first, options.last, south, options.bushel)
        ), south)  # fmt: skip
    named = options.slate
    if named and Path(named).is_file():
        named = ",".join(f'"{line.strip()}"' for line in Path(named).read_text("utf-8-sig").splitlines() if line.strip())  # fmt: skip
    return OrderWanted(
        catalogue, profile(catalogue, key, (), place.winters if place else None), demand, names_of(catalogue, named), Basis(site),
        fill=options.met / 100, worst=options.worst / 100, acres=options.acres, trees_per_acre=trees_per_acre(options.spacing),
        most_cultivars=options.most, least_lot=options.lot, bears=None if options.bears is None else options.bears * KG_PER_POUND, price=options.price,
        as_much=options.money is not None, money=options.money, most_share=options.most_share / 100,
        place=None if place is None or place.bloom_refused else place, second=second, also=also,
    )  # fmt: skip
