"""Which place is a store, and a transaction in it: one writer at a time, beside whom others read.

Into the embedded file goes first a log, and from there the file, so that readers never wait. Very much at once is laid straight into the file
where nobody else has it open: half as much is written. Whoever comes to read just then waits until it is in, half a second for a million fruit.
"""

from __future__ import annotations

import shlex
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dashboard.places import is_address
from dashboard.records.problems import Problem, RecordError

if TYPE_CHECKING:
    from sqlalchemy import Connection, Engine

ENDING = ".store"
FORM = "postgresql+psycopg://machine/name"  # of a database's address
WAIT_S = 10.0  # for somebody else's import
LOG, STRAIGHT = "WAL", "TRUNCATE"  # SQLite's words for how changes come into its file
_SIGNATURE = b"SQLite format 3\0"
_LOCK = 7_262_017_436  # of PostgreSQL's advisory locks, this program's: a number of no meaning

Place = str | Path


class StoreError(ValueError):
    """Why a store cannot be had, or something cannot be done in it, in one sentence."""


def is_store(place: Place) -> bool:
    """Whether this is a database's address or a store's file; a file killed while it was made is an empty one."""
    if is_address(place):
        return True
    path = Path(place)
    try:
        if not path.is_file():
            return False
        with path.open("rb") as file:
            first = file.read(len(_SIGNATURE))
    except OSError:
        return False
    return first == _SIGNATURE or (not first and path.suffix == ENDING)


def into(place: Place, file: str) -> str:
    """The command that brings a file, named as a terminal takes it, into a trial: a store, or a folder."""
    bring = "store bring" if is_store(place) else "import"
    return f"orchard-slate {bring} {file} --into {shlex.quote(str(place))}"


@contextmanager
def reading(place: Place) -> Iterator[Connection]:
    """A state that stays as it is, whatever comes in meanwhile. StoreError where there is none."""
    from dashboard.records.store.tables import STEPS, version_of

    if not is_store(place):
        raise StoreError(
            f"{place}: is no store; make one with  orchard-slate store bring FOLDER --into {place}."
        )
    with _told(place), _engine(place).connect() as connection:
        if connection.dialect.name == "postgresql":
            connection = connection.execution_options(isolation_level="REPEATABLE READ")
        with connection.begin():
            found = version_of(connection)
            _refuse(place, found)
            if found == len(STEPS):
                yield connection
                return
    if found == 0:
        raise StoreError(f"{place}: holds no records yet; bring some in with  orchard-slate store bring FOLDER --into {place}.")  # fmt: skip
    with writing(place):
        pass
    with reading(place) as connection:
        yield connection


@contextmanager
def writing(place: Place, much: bool = False) -> Iterator[Connection]:
    """A transaction that nobody else writes beside: whole when the block ends, undone when it is left by an error or a kill. ``much``: more
    than is laid into a log first.

    StoreError where somebody else is still writing after WAIT_S seconds.
    """
    from dashboard.records.store.tables import step_up, version_of

    if not is_address(place) and not is_store(place):
        _new(Path(place))
    with _told(place), _engine(place, STRAIGHT if much else LOG).connect() as connection:
        connection = connection.execution_options(writes=True)
        with connection.begin():
            if connection.dialect.name == "postgresql":
                connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{int(WAIT_S * 1000)}ms'")
                connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_LOCK})")
            _refuse(place, version_of(connection))
            step_up(connection)
            yield connection


def _new(path: Path) -> None:
    if path.exists():
        raise StoreError(f"{path}: is no store; name a file that ends in {ENDING}, or a database's address.")
    if path.suffix != ENDING:
        raise StoreError(f"{path}: is not there yet, and a new store's name ends in {ENDING}; name it for example {path.stem or 'trial'}{ENDING}.")  # fmt: skip
    if not path.absolute().parent.is_dir():
        raise StoreError(f"{path}: there is no folder {path.absolute().parent}; make it first.")


def _refuse(place: Place, version: int) -> None:
    from dashboard.records.store.tables import STEPS

    if version > len(STEPS):
        raise StoreError(f"{place}: was written by a newer version of this program; update it here.")


def _engine(place: Place, way: str = "") -> Engine:
    """``way``: how a writer's changes come into the file."""
    from sqlalchemy import URL, NullPool, create_engine, event, make_url
    from sqlalchemy.exc import ArgumentError, NoSuchModuleError

    if not is_address(place):
        url = URL.create("sqlite", database=str(Path(place).absolute()))
    else:
        try:
            url = make_url(str(place))
        except ArgumentError:
            raise StoreError(f"{place}: this leads to no database; write it like {FORM}.") from None  # fmt: skip
        if url.password:
            raise StoreError("The address of a store holds no password, for it is shown; put that into ~/.pgpass or PGPASSWORD.")  # fmt: skip
        if url.get_backend_name() not in ("postgresql", "sqlite"):
            raise StoreError(f"{place}: a store is a file or PostgreSQL; write it like {FORM}.")
    try:
        if url.get_backend_name() == "postgresql":
            return create_engine(url, poolclass=NullPool)
        engine = create_engine(url, poolclass=NullPool, connect_args={"timeout": WAIT_S})
    except NoSuchModuleError:
        raise StoreError(f"{place}: this kind of database is not known; write it like {FORM}.") from None  # fmt: skip
    except ImportError:
        raise StoreError("PostgreSQL needs a library that is not installed; write  pip install '.[postgresql]'.") from None  # fmt: skip

    @event.listens_for(engine, "connect")
    def _prepare(connection, _record) -> None:
        connection.isolation_level = None  # the library would begin transactions when it likes
        connection.execute("PRAGMA page_size = 65536")  # of a new file, the largest there is; text is long
        if way == LOG:
            connection.execute(f"PRAGMA journal_mode = {LOG}")
        elif way == STRAIGHT:
            _turn(connection, STRAIGHT, 0)
        connection.execute(
            "PRAGMA synchronous = FULL"
        )  # what was said to be in is in, after a loss of power too

    @event.listens_for(engine, "close")
    def _leave(connection, _record) -> None:
        if way == STRAIGHT:
            _turn(connection, LOG, 1_000)

    @event.listens_for(engine, "begin")
    def _begin(connection) -> None:
        writes = connection.get_execution_options().get("writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _turn(connection: Any, way: str, wait_ms: int) -> None:
    """From the one way to the other; it stays where somebody else has the file open, and the next writer turns it."""
    connection.execute(f"PRAGMA busy_timeout = {wait_ms}")
    with suppress(sqlite3.Error):
        connection.execute(f"PRAGMA journal_mode = {way}").fetchall()
    connection.execute(f"PRAGMA busy_timeout = {WAIT_S * 1000:.0f}")


@contextmanager
def _told(place: Place) -> Iterator[None]:
    """What a database says of itself, as one sentence."""
    from sqlalchemy.exc import DBAPIError, OperationalError

    try:
        yield
    except DBAPIError as fault:
        said = (
            str(fault.orig).strip().splitlines()[0] if str(fault.orig).strip() else type(fault.orig).__name__
        )
        if isinstance(fault, OperationalError) and ("locked" in said or "lock timeout" in said):
            raise StoreError(f"{place}: somebody else is bringing records in; nothing of yours came in, try again in a minute.") from None  # fmt: skip
        raise StoreError(f"{place}: the database says “{said}”; nothing came in or out.") from fault


def as_record_error(place: Place, fault: StoreError) -> RecordError:
    """As the ordinary reader tells that nothing can be loaded."""
    said = str(fault).removeprefix(f"{place}: ").rstrip(".")
    rule, _, suggestion = said.partition("; ")
    return RecordError([Problem("error", str(place), rule=rule, suggestion=suggestion)])
