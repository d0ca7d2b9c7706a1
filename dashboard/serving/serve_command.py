"""``orchard-slate serve``: its options, and the server that they ask for."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dashboard import places
from dashboard.serving import operating

if TYPE_CHECKING:
    from dashboard.serving.bringing.room import Room


def offer(serve: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    serve.add_argument(
        "folder",
        nargs="?",
        metavar="FOLDER|STORE",
        help="folder of .csv tables, one .xlsx, or a store (default: the demo data)",
    )
    serve.add_argument(
        "--notebook",
        metavar="FILE.ipynb",
        help="a notebook of your own as the page; the usual one is at /page then",
    )
    serve.add_argument("--port", type=int, default=5006)
    serve.add_argument("--address", default="localhost", help="0.0.0.0 lets others in the room's network in")
    serve.add_argument("--origin", action="append", metavar="HOST", help="a further name it is reached by")
    serve.add_argument(
        "--records", action="store_true", help="whoever has the password may bring records in, at /records"
    )
    serve.add_argument(
        "--desk",
        metavar="FOLDER",
        default="",
        help="holds what is on its way in (default: beside the records)",
    )
    operating.offer(serve)
    serve.add_argument("--warm", action="store_true", help="work everything out before the first visitor")
    serve.add_argument("--show", action="store_true", help="open a browser")


def run(options: argparse.Namespace) -> int:
    """Serve until it is stopped; 1 and one sentence where that cannot be."""
    source = places.place_of(options.folder or places.demo_data())
    if isinstance(source, Path) and not source.exists():
        return _refused(
            f"{source}: there is no such folder or file; name a folder of .csv tables or one .xlsx."
        )
    from dashboard.answers import catalogue
    from dashboard.page import app
    from dashboard.records import RecordError
    from dashboard.records.store import newest
    from dashboard.serving import hosts, server
    from dashboard.serving.read_beside import taken_up
    from dashboard.visit import network_address as reach

    os.environ[places.FOLDER] = str(source.resolve() if isinstance(source, Path) else source)
    os.environ[reach.LISTENS] = options.address
    try:
        pages = _pages(options.notebook)
        known_by = hosts.Hosts(options.address, tuple(options.origin or ()))
        watch = operating.watch(options)
        room = _room(options, source) if options.records else None
    except ValueError as fault:
        return _refused(fault)
    except OSError as fault:
        return _refused(places.unwritten(Path(fault.filename or source), fault))
    try:
        loaded = catalogue.load(source)  # once a process, before the first visitor
        newest.follow(source, taken_up)  # what comes into a store meanwhile
        if options.warm:
            app.rehearse()
    except RecordError as error:
        return _refused(error)
    if refused := reach.refused(options.address, options.port):
        return _refused(refused)
    shown = f"{options.notebook} with {source}" if options.notebook else source
    at = reach.found_at(options.address, options.port, options.origin or ())
    print(f"Orchard Slate shows {shown} at {at}  (stop with Ctrl+C)", flush=True)
    if room is not None:
        room.title = loaded.records_title
        print(f"Records come in at {at.rstrip('/')}/records, for whoever has the password", flush=True)
        if not reach.looped(options.address):
            print(
                "The password goes through the network as it is typed, unless a proxy encrypts it",
                file=sys.stderr,
                flush=True,
            )
    address = None if reach.everywhere(options.address) else options.address
    try:
        server.serve(
            pages, title=app.TITLE, port=options.port, address=address, show=options.show, warm=options.warm,
            hosts=known_by, watch=watch, drain=options.drain, websocket_origin=options.origin, room=room,
        )  # fmt: skip
    except OSError:  # taken since it was looked at
        return _refused(reach.taken(options.address, options.port))
    return 0


def _pages(notebook: str | None) -> dict[str, Any]:
    """What stands at which address; ValueError, one sentence, for a notebook that cannot be read."""
    usual, nursery = (str(places.notebooks() / name) for name in ("orchard_slate.ipynb", "nursery.ipynb"))
    if notebook is None:
        return {"/": usual, "/nursery": nursery}
    from dashboard.serving.own_notebook import OwnNotebook

    return {"/": OwnNotebook(Path(notebook)).application(), "/page": usual, "/nursery": nursery}


def _room(options: argparse.Namespace, source: str | Path) -> Room:
    """ValueError, one sentence, where nothing can come in; OSError where the desk cannot be written."""
    from dashboard.records.store import newest
    from dashboard.records.trays.desk import desk_of
    from dashboard.serving.bringing.bench import sites
    from dashboard.serving.bringing.room import Room
    from dashboard.serving.read_beside import taken_up

    if not options.folder:
        raise ValueError(
            "The demo takes no records in; name your own trial:  orchard-slate serve my_trial --records"
        )
    desk = desk_of(source, options.desk)
    named = tuple(name.lower() for name in options.origin or ())
    room = Room(
        desk, named=named, anew=lambda: newest.renew(source, taken_up), sites=lambda: sites(source)
    )  # fmt: skip
    if fault := room.sessions.password.fault(options.folder):
        raise ValueError(fault)
    room.open()
    return room


def _refused(why: object) -> int:
    print(why, file=sys.stderr)
    return 1
