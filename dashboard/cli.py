"""The command ``orchard-slate``: serve the page, bring in sheets, set the password that lets them in, keep a store, check records, write values, ripening windows and how cultivars stand in a market, the week's walk, a plan for a season, an order of trees, a handout, a template, labels, photographs."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from dashboard import places
from dashboard.handout import order_command, plan_command
from dashboard.handout.bench import command as bench_command
from dashboard.handout.labels import command as labels_command
from dashboard.records.importing import command as import_command
from dashboard.records.photographed import command as photos_command
from dashboard.records.store import command as store_command
from dashboard.serving import serve_command
from dashboard.serving.bringing import password_command
from dashboard.terms.units import SYSTEMS

_BEHIND = 10  # how far what brings records in stands back behind other programs
MARKET, NAMED = "KEY|TITLE|FILE", "a market's key, its title as on the page, or a profile (.toml)"


def main(argv: Sequence[str] | None = None) -> int:
    options = parser().parse_args(argv)
    if argv is None and getattr(options, "gives_way", False) and hasattr(os, "nice"):
        os.nice(_BEHIND)  # whoever looks at a page of this machine goes first
    return options.run(options)


def parser() -> argparse.ArgumentParser:
    asked = argparse.ArgumentParser(prog="orchard-slate", description=(__doc__ or "").replace("``", ""))
    commands = asked.add_subparsers(required=True, metavar="COMMAND")

    serve = commands.add_parser("serve", help="show records as a page in the browser")
    serve_command.offer(serve)
    serve.set_defaults(run=serve_command.run)
    coming = commands.add_parser(
        "import", help="read sheets as you keep them into a trial; asks what it cannot know"
    )
    import_command.offer(coming)
    coming.set_defaults(run=import_command.run, gives_way=True)
    store = commands.add_parser("store", help="a trial kept in one file or a database")
    store.set_defaults(gives_way=True)
    store_command.offer(store)

    password_command.offer(
        secret := commands.add_parser(
            "password", help="set the password that lets records in by the served page"
        )
    )
    secret.set_defaults(run=password_command.run)

    check = commands.add_parser("check", help="list what is wrong with records; ends with 1 on errors")
    check.add_argument("--out", metavar="FILE", help="every place as a .csv, a row each, the newest first")
    check.set_defaults(run=_check)

    estimate = commands.add_parser(
        "estimate", help="write what each cultivar is worth, with its error and what it rests on (SI units)"
    )
    estimate.add_argument("--trait", metavar="T", help="one trait, for example size (default: all)")
    estimate.add_argument("--site", metavar="S", help="values at this site (default: over sites)")
    estimate.add_argument("--out", metavar="FILE", help="where to write the .csv (default: the screen)")
    estimate.set_defaults(run=_estimate)

    ripening = commands.add_parser(
        "ripening",
        help="write when each cultivar is to be expected at a site, in an early, ordinary and late season",
    )
    ripening.add_argument("--site", metavar="S", required=True)
    ripening.add_argument("--out", metavar="FILE", help="where to write the .csv (default: the screen)")
    ripening.set_defaults(run=_ripening)

    walk = commands.add_parser(
        "walk", help="list what may be ripe at a site in the next seven days, the most urgent first"
    )
    walk.add_argument("--site", metavar="S", required=True)
    walk.add_argument("--date", metavar="D", default="", help="as 2025-07-14 (default: today)")
    walk.add_argument(
        "--out", metavar="FILE", help="where to write a .csv (default: a list for paper, on the screen)"
    )
    walk.add_argument("--by-row", action="store_true", help="in walking order, by row and position")
    walk.set_defaults(run=_walk)

    rank = commands.add_parser("rank", help="write the page's table: how every cultivar stands in a market")
    rank.add_argument("--market", metavar=MARKET, required=True, help=NAMED)
    rank.add_argument("--out", metavar="FILE", help="where to write the .csv (default: the screen)")
    rank.set_defaults(run=_rank)

    published = commands.add_parser(
        "publish", help="write the page for a market as a file that needs no server"
    )
    published.add_argument("--market", metavar=MARKET, required=True, help=NAMED)
    published.add_argument("--out", metavar="FILE", required=True, help="where to write the .html")
    published.set_defaults(run=_publish)

    handout = commands.add_parser("handout", help="write my slate for paper, or as a workbook")
    handout.add_argument("--out", metavar="FILE", required=True, help="handout.pdf or handout.xlsx")
    handout.add_argument("--market", metavar=MARKET, default="", help=NAMED)
    handout.add_argument("--shortlist", metavar="A,B,C", default="", help="cultivars (default: the first 30)")
    handout.add_argument("--paper", choices=("a4", "letter"), default="", help="(default: by the units)")
    handout.set_defaults(run=_handout)

    plan = commands.add_parser("plan", help="propose the fewest cultivars that fill a selling season")
    plan_command.offer(plan)
    plan.set_defaults(run=lambda options: _tell(lambda: plan_command.told(options), None))

    order = commands.add_parser(
        "order", help="how many trees of which cultivar fill a buyer's weeks at the least cost"
    )
    order_command.offer(order)
    order.set_defaults(run=lambda options: _tell(lambda: order_command.told(options), None))

    site = commands.add_parser(
        "site", help="write who gets enough winter chill at a place, its bloom and frost"
    )
    site.add_argument("--site", metavar="S", default="", help="whose weather (default: the first with any)")
    site.add_argument(
        "--higher", metavar="M", type=int, default=0, help="meters my site lies above that; below, as -60"
    )
    site.add_argument("--weather", metavar="FILE", default="", help="a .csv of my own: date, tmin_c, tmax_c")
    site.add_argument("--out", metavar="FILE", help="where to write the .csv (default: the screen)")
    site.set_defaults(run=_site)

    for one in (check, estimate, ripening, walk, site, rank, published, handout):
        one.add_argument("source", metavar="FOLDER|FILE")
    for one in (rank, published, handout):
        one.add_argument("--site", metavar="S", default="", help="figures at this site (default: over sites)")
        one.add_argument("--units", choices=SYSTEMS, default="us", help="inches and pounds, or mm and N")
        one.add_argument("--columns", metavar="A,B", default="", help="further ones: winter_chill, price, …")
    plan_command.offer_days(published, handout)
    plan_command.offer_second(published)
    notebook = commands.add_parser(
        "notebook", help="write a notebook to start from: questions, and a page with a tab of your own"
    )
    notebook.add_argument("file", metavar="FILE.ipynb")
    notebook.set_defaults(run=_notebook)
    template = commands.add_parser(
        "template", help="write an empty workbook, or one site and day: a sheet, a paper form, a page"
    )
    bench_command.offer(template)
    template.set_defaults(run=_template)
    labels = commands.add_parser("labels", help="write sheets of labels, each with a code of its sample")
    labels_command.offer(labels)
    labels.set_defaults(run=_labels)
    photos_command.offer(commands.add_parser("photos", help="say which photograph is of which sample"))
    return asked


def _check(options: argparse.Namespace) -> int:
    from dashboard.records.report import checked

    text, code, every = checked(options.source)
    print(text)
    if not options.out:
        return code
    from dashboard.handout.tables import comma_separated

    return _tell(lambda: comma_separated(every), options.out) or code


def _estimate(options: argparse.Namespace) -> int:
    from dashboard.answers import catalogue
    from dashboard.handout import estimates

    def told() -> str:
        loaded = catalogue.load(options.source)
        remarks.extend(estimates.remarks(loaded, options.trait))
        return estimates.text(estimates.estimates(loaded, options.trait, options.site))

    remarks: list[str] = []
    return _tell(told, options.out, remarks)


def _ripening(options: argparse.Namespace) -> int:
    from dashboard.answers import catalogue
    from dashboard.handout import ripening

    def told() -> str:
        return ripening.text(ripening.ripening_table(catalogue.load(options.source), options.site))

    return _tell(told, options.out)


def _walk(options: argparse.Namespace) -> int:
    from dashboard.answers import catalogue
    from dashboard.handout import ripening

    def told() -> str:
        on = bench_command.day_of(options.date)
        loaded = catalogue.load(options.source)
        table, week = ripening.walk(loaded, options.site, on, by_row=options.by_row)
        return (
            ripening.text(table) if options.out else ripening.walk_text(table, week, options.site, on, loaded)
        )

    return _tell(told, options.out)


def _site(options: argparse.Namespace) -> int:
    from dashboard.handout import site_table

    def told() -> str:
        table, said = site_table.told(options.source, options.site, options.higher, options.weather)
        remarks.extend(said)
        return table

    remarks: list[str] = []
    return _tell(told, options.out, remarks)


def _rank(options: argparse.Namespace) -> int:
    from dashboard.answers import catalogue
    from dashboard.handout import standings

    def told() -> str:
        asked = standings.ranked(catalogue.load(options.source), options.market, **_asked(options))
        remarks.extend(standings.remarks(asked))
        return standings.text(asked)

    remarks: list[str] = []
    return _tell(told, options.out, remarks)


def _publish(options: argparse.Namespace) -> int:
    from dashboard.answers import catalogue
    from dashboard.slate import publish

    def told() -> str:
        size = publish(catalogue.load(options.source), options.market, options.out, **_asked(options))
        return (
            f"{options.out} written, {size / 1e6:.1f} MB: mail it, or put it on any web server; "
            "it opens in a browser by itself.\n"
        )

    return _tell(told, None)


def _handout(options: argparse.Namespace) -> int:
    from dashboard.handout.writing import write_handout

    def progress(page: int, pages: int) -> None:
        print(f"{page} of {pages} pages", file=sys.stderr)

    asked = {name: getattr(options, name) for name in ("market", "shortlist", "paper")} | _asked(options)
    return _tell(lambda: write_handout(options.source, options.out, **asked, progress=progress), None)


def _asked(options: argparse.Namespace) -> dict:
    names = ("second", "site", "units", "columns", "first", "last", "certainty")
    return {name: getattr(options, name) for name in names if name in options}


def _tell(told: Callable[[], str], out: str | None, remarks: Sequence[str] = ()) -> int:
    """What ``told`` gives, a table to the file ``out`` or to the screen, and ``remarks`` beside it; 1 and one sentence where it
    cannot be given."""
    from dashboard.records import RecordError

    try:
        text = told()
        if out:
            places.put(Path(out), text.encode("utf-8"))
    except (RecordError, ValueError) as fault:
        print(fault, file=sys.stderr)
        return 1
    except OSError as fault:
        print(places.unwritten(Path(fault.filename or out or "output"), fault), file=sys.stderr)
        return 1
    print("\n".join(remarks), end="\n" if remarks else "", file=sys.stderr)
    print(f"{out}: {text.count(chr(10)) - 1} rows written" if out else text, end="\n" if out else "")
    return 0


def _notebook(options: argparse.Namespace) -> int:
    def write(target: Path) -> str:
        places.put(target, (places.notebooks() / places.STARTING).read_bytes())
        return ""

    told = "open it in Jupyter, or run  orchard-slate serve --notebook {file}"
    return places.write_new(Path(options.file), ".ipynb", "notebook", write, told)


def _template(options: argparse.Namespace) -> int:
    target, asked = Path(options.file), bench_command
    return places.write_new(
        target, *asked.kind(options), lambda path: asked.write(options, path), asked.then(options)
    )


def _labels(options: argparse.Namespace) -> int:
    target, asked = Path(options.file), labels_command
    return places.write_new(
        target, ".pdf", "sheet of labels", lambda path: asked.write(options, path), asked.then(options)
    )


if __name__ == "__main__":
    sys.exit(main())
