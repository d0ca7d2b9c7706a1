"""Where the demo data, the pages and the market profiles lie, in a checkout or inside the installed package; and how what
is written takes its place among files."""

from __future__ import annotations

import getpass
import os
import shlex
import stat
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from uuid import uuid4

PACKAGE = Path(__file__).resolve().parent
FOLDER = "ORCHARD_SLATE_FOLDER"  # the records a server shows; set by the command, read by notebooks
STARTING = "own_page.ipynb"  # of the notebooks, the one to start one's own from
MARKETS = PACKAGE / "market" / "profiles"


def _beside_or_inside(name: str) -> Path:
    """``name`` beside the package (a checkout) or inside it (an installed wheel)."""
    beside = PACKAGE.parent / name
    return beside if beside.is_dir() else PACKAGE / name


def demo_data() -> Path:
    return _beside_or_inside("demo_data")


def warm_weather() -> Path:
    """Weather of an invented place where chill runs short, to try what a grower's own file would say."""
    return demo_data() / "warm_place" / "weather.csv"


def notebooks() -> Path:
    return _beside_or_inside("notebooks")


def is_address(said: str | Path) -> bool:
    """Whether this is the address of a database, like postgresql+psycopg://machine/trial, and no file's name."""
    return "://" in str(said)


def place_of(said: str | Path) -> str | Path:
    """Where records lie, as somebody said it: an address stays as it is, anything else is a folder or file."""
    return str(said) if is_address(said) else Path(said)


def somebody() -> str:
    """The name that whoever works here is logged in by."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "unknown"


def put(place: Path, content: bytes) -> None:
    """Write a file whole or not at all: beside its place, then moved there in one step.

    On a full disk, or killed midway, what stood there still stands. OSError with ``place`` as its file name where it
    cannot be written. A pipe or a device is written into; a link stays, and what it leads to is replaced.
    """
    place = Path(os.path.realpath(place))
    beside = place.with_name(f".writing-{uuid4().hex}{place.suffix}")
    try:
        if place.exists() and not place.is_file():
            place.write_bytes(content)
            return
        with beside.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())  # some disks say that they are full only here
        if place.exists():
            beside.chmod(stat.S_IMODE(place.stat().st_mode))
        beside.replace(place)
    except OSError as fault:
        with suppress(OSError):
            beside.unlink()
        raise OSError(fault.errno, fault.strerror, str(place)) from None


def unwritten(place: Path, fault: OSError) -> str:
    """One sentence for what ``put`` could not write."""
    said = fault.strerror or str(fault)
    return f"{place}: cannot be written ({said}); name a file that may be written to, on a disk with room."


def write_new(target: Path, ending: str, kind: str, write: Callable[[Path], str], told: str) -> int:
    """A new file of this ending, never in the place of another; 1 and one sentence where it cannot be written.

    ``write`` gives back what is in it, ``told`` says what to go on with, {file} in place of its name.
    """
    why = ""
    if target.suffix.lower() != ending:
        why = (
            f"{target}: a {kind}'s name ends in {ending}; name it for example {target.stem or kind}{ending}."
        )
    elif target.exists():
        why = f"{target}: is there already and is left as it is; choose another name."
    else:
        try:
            told = "; ".join(filter(None, (write(target), told.replace("{file}", shlex.quote(str(target))))))
        except OSError as fault:
            why = unwritten(target, fault)
        except ValueError as fault:
            why = str(fault)
    print(
        why or f"{target} written: {told}",
        file=sys.stderr if why else sys.stdout,
    )
    return 1 if why else 0
