"""``orchard-slate plan``: its options, and the plan that they ask for, on the screen or in a file."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dashboard.answers.catalogue import Catalogue
    from dashboard.answers.selling import Wanted

ENDINGS = (".txt", ".csv", ".xlsx", ".pdf")
DAY = 'as "Jun 10" or 2027-06-10'
PROOF = 20.0  # seconds at the most, to prove that fewer cannot, or to find that they can


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    parser.add_argument("source", metavar="FOLDER|FILE")
    market = "a market's key, its title as on the page, or a profile (.toml)"
    parser.add_argument("--market", metavar="KEY|TITLE|FILE", required=True, help=market)
    offer_second(parser)
    parser.add_argument("--from", metavar="D", dest="first", required=True, help=f"first selling day, {DAY}")
    parser.add_argument("--to", metavar="D", dest="last", required=True, help=f"last selling day, {DAY}")
    _offer_certainty(parser)
    parser.add_argument(
        "--least", type=int, choices=(1, 2, 3), default=1, help="cultivars at once (default: 1)"
    )
    parser.add_argument(
        "--most", type=int, metavar="N", help="cultivars at most (default: as few as fill the season)"
    )
    parser.add_argument(
        "--year",
        choices=("early", "ordinary", "late", "any"),
        default="any",
        help="kind of season (default: any, as on the page)",
    )
    parser.add_argument("--keep", metavar="A,B,C", default="", help="cultivars that are to be in it")
    parser.add_argument("--never", metavar="A,B,C", default="", help="cultivars that are not")
    parser.add_argument(
        "--offered", action=argparse.BooleanOptionalAction, default=None, help="only what a nursery offers now (default, where offers are on record)"
    )  # fmt: skip
    parser.add_argument("--site", metavar="S", default="", help="figures at this site (default: over sites)")
    parser.add_argument("--out", metavar="FILE", default="", help="where to write the .txt, .csv, .xlsx or .pdf (default: the screen)")  # fmt: skip


def offer_second(parser: argparse.ArgumentParser) -> None:
    """Another buyer of the same slate."""
    parser.add_argument(
        "--market2",
        metavar="KEY|TITLE|FILE",
        dest="second",
        default="",
        help="a second buyer for the same days",
    )


def offer_days(*parsers: argparse.ArgumentParser) -> None:
    """The selling days of a slate, where they may be left to the season."""
    for one in parsers:
        whole = "(default: the season's)"
        one.add_argument(
            "--from", metavar="D", dest="first", default="", help=f"first selling day, {DAY} {whole}"
        )
        one.add_argument("--to", metavar="D", dest="last", default="", help=f"last selling day {whole}")
        _offer_certainty(one)


def _offer_certainty(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--certainty", type=int, choices=(6, 7, 8, 9), default=8, help="years in 10 that a day has fruit (default: 8)"
    )  # fmt: skip


def told(options: argparse.Namespace) -> str:
    """The plan as text, or what was written, in one line. ValueError, one sentence, for what cannot be followed or planned."""
    from dashboard.answers.catalogue import load
    from dashboard.answers.planning import easings, plan, smallest, with_unoffered
    from dashboard.handout import plan as paper
    from dashboard.places import put

    place = Path(options.out) if options.out else None
    if place is not None and place.suffix.lower() not in ENDINGS:
        raise ValueError(f"{place}: a plan's name ends in .txt, .csv, .xlsx or .pdf, for example plan.pdf.")
    if place is not None and place.resolve() == Path(options.source).resolve():
        raise ValueError(f"{place}: are the records themselves; name another file.")
    asked = wanted(load(options.source), options)
    found, fewest = plan(asked), None
    if found.refused:
        raise ValueError(found.refused)
    if asked.most is None:
        found, fewest = smallest(asked, PROOF)
    beside = easings(asked), fewest, with_unoffered(asked)
    if place is None:
        return paper.text(found, *beside)
    ending = place.suffix.lower()
    made = (
        paper.csv(found) if ending == ".csv"
        else paper.xlsx(found, *beside) if ending == ".xlsx"
        else paper.pdf(found, *beside) if ending == ".pdf"
        else paper.text(found, *beside).encode("utf-8")
    )  # fmt: skip
    put(place, made)
    return f"{place} written. {paper.lines(found)[0][1]}\n"


def wanted(catalogue: Catalogue, options: argparse.Namespace) -> Wanted:
    """What the options ask for. MarketError or ValueError, one sentence, for what is not there."""
    from dashboard.answers.catalogue import Basis, with_market
    from dashboard.answers.my_site import winters_at
    from dashboard.answers.planting import Pool, offers_known
    from dashboard.answers.selling import Wanted
    from dashboard.answers.standing import profile
    from dashboard.handout.asking import known_site, names_of
    from dashboard.ripening.typed_days import day_typed

    site, markets = known_site(catalogue, options.site), []
    for said in (options.market, options.second):
        if said:
            catalogue, key = with_market(catalogue, said)
            markets.append(profile(catalogue, key, (), winters_at(catalogue, site)))
    if len(markets) > len(set(markets)):
        raise ValueError(f"{catalogue.markets[key].name} is named twice; name another second buyer.")
    kept, barred = (names_of(catalogue, said) for said in (options.keep, options.never))
    offered = offers_known(catalogue) if options.offered is None else options.offered
    return Wanted(
        catalogue, tuple(markets), day_typed(options.first, catalogue.south), day_typed(options.last, catalogue.south),
        Pool(offered=offered, kept=kept, barred=barred), Basis(site),
        options.year, options.least, options.certainty, options.most,
    )  # fmt: skip
