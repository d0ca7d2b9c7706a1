"""``orchard-slate photos``: its options; says of each picture in a folder which sample it is of, and keeps copies where that is asked for."""

from __future__ import annotations

import argparse
import shlex
import sys
from pathlib import Path

from dashboard import places


def offer(parser: argparse.ArgumentParser) -> None:
    """The options of the command; what they need is imported when they are asked."""
    parser.add_argument("folder", metavar="FOLDER", help="of pictures, as they come from the camera")
    parser.add_argument("--trial", metavar="FOLDER|FILE", required=True)
    parser.add_argument(
        "--out", metavar="FILE.xlsx", default="",
        help="put small copies into the trial's folder photos, and write a sheet to import (default: only say whose they are)",
    )  # fmt: skip
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """0 where every picture found its sample, 1 where one did not, or nothing could be done."""
    from dashboard.records.problems import RecordError

    out = Path(options.out) if options.out else None
    try:
        return _gone_through(Path(options.folder), options.trial, out)
    except (RecordError, ValueError) as fault:
        print(fault, file=sys.stderr)
    except OSError as fault:
        print(places.unwritten(Path(fault.filename or options.out), fault), file=sys.stderr)
    return 1


def _gone_through(folder: Path, trial: str, out: Path | None) -> int:
    """ValueError, one sentence, where it cannot begin; OSError where something cannot be written."""
    from dashboard.records.photographed.codes import NOT_READ, reader
    from dashboard.records.photographed.keeping import Kept, sheet
    from dashboard.records.photographed.owners import owners
    from dashboard.records.photographed.taking import files, taken
    from dashboard.records.photos import FOLDER
    from dashboard.records.problems import seen
    from dashboard.records.reading import read

    _asked_well(folder, trial, out)
    samples = read(trial).tables["samples"]
    known, root = owners(samples), Path(trial)
    kept = Kept(root if root.is_dir() else root.parent)
    if folder.resolve() == kept.folder.resolve():
        raise ValueError(f"{folder}: is the trial's own folder of photographs; put new ones into another.")
    if reader() is None:
        print(NOT_READ, file=sys.stderr)
    used = count = 0
    for path in files(folder):
        one = taken(path, known)
        said = one.sentence
        if one.sample and out:
            name = kept.keep(one.sample, path.name, one.copy, known.written[one.sample])
            said = f"{said[:-1]}, kept as {seen(name)}." if name else f"{seen(path.name)}: not used; the folder {FOLDER} has another of this name, and it stays."  # fmt: skip
            used += bool(name)
        else:
            used += bool(one.sample)
        count += 1
        print(said, flush=True)
    print(f"{count:,} in the folder: {used:,} of a sample, {count - used:,} not used.")
    if out:
        content, told = sheet(samples, kept, known.written)
        print("\n".join(told), end="\n" if told else "")
        if content:
            places.put(out, content)
            print(f"{out} written; {_then(shlex.quote(str(out)), trial)}")
        else:
            print(f"{out} is not written: no sample without a photograph has one now.")
    return int(used < count)


def _asked_well(folder: Path, trial: str, out: Path | None) -> None:
    if not folder.is_dir():
        raise ValueError(f"{folder}: there is no such folder; name the one with the pictures.")
    if out and places.is_address(trial):
        raise ValueError(
            "A database has no folder for photographs; name a folder, a workbook or a .store file."
        )
    if out and out.suffix.lower() != ".xlsx":
        raise ValueError(f"{out}: the sheet's name ends in .xlsx; name it for example {out.stem or 'photos'}.xlsx.")  # fmt: skip
    if out and out.exists():
        raise ValueError(f"{out}: is there already and is left as it is; choose another name.")


def _then(out: str, trial: str) -> str:
    """How the sheet comes into the trial."""
    from dashboard.records.store.opening import into, is_store

    if is_store(trial) or Path(trial).is_dir():
        return f"then run  {into(trial, out)}"
    return f"copy its cells photo into the sheet samples of {trial}"
