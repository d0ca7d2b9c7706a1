"""Make the twelve ways, bring each in, and print what it takes; see ``tests.ways``."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.ways import ALL
from tests.ways.reckoned import Reckoned, brought_in
from tests.ways.truth import Compared, compared, read_truth, write_truth

HEAD = (
    "| way | records | answers | words | seconds | cells right | wrong | wrong, flagged | wait | machine s |"
)


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.ways", description=__doc__)
    parser.add_argument("what", nargs="*", help="w01 … w12, or make DIR [w01 …], or compare TRUTH.csv TRIAL")
    parser.add_argument("--size", type=float, default=1.0, help="of all of them, 1 is the whole (default: 1)")
    parser.add_argument("--rows", type=int, default=200_000, help="fruit of w12 (default: 200,000)")
    parser.add_argument("--show", action="store_true", help="print what was asked, shown and typed, too")
    parser.add_argument("--keep", metavar="DIR", help="leave folders, truth and trials there")
    options = parser.parse_args()
    first, *rest = [*options.what, ""][:1] + options.what[1:]
    if first == "make":
        if not rest:
            parser.error("make needs a folder")
        return _make(Path(rest[0]), rest[1:], options)
    if first == "compare":
        if len(rest) != 2:
            parser.error("compare needs the table of the truth and a trial")
        return _compare(Path(rest[0]), Path(rest[1]))
    if unknown := [name for name in options.what if name not in ALL]:
        parser.error(f"no way is called {unknown[0]}")
    with TemporaryDirectory() as made:
        return _reckon(Path(options.keep or made), options.what, options)


def _size(name: str, options: argparse.Namespace) -> float:
    return options.rows / 200_000 * options.size if name == "w12" else options.size


def _make(folder: Path, names: list[str], options: argparse.Namespace) -> int:
    apart = folder.with_name(f"{folder.name}-truth")
    apart.mkdir(parents=True, exist_ok=True)
    for name in names or ALL:
        made = ALL[name].made(folder / name, _size(name, options))
        write_truth(apart / f"{name}.csv", made.truth)
        print(f"{folder / name}: {len(made.truth):,} true figures in {apart / name}.csv")
    return 0


def _compare(truth: Path, trial: Path) -> int:
    found = compared(read_truth(truth), trial)
    _tell(found)
    print(f"{found.right:,} right, {len(found.wrong):,} wrong, {len(found.flagged):,} wrong and flagged, {len(found.waits):,} wait")  # fmt: skip
    return int(len(found.wrong) > 0)


def _reckon(folder: Path, names: list[str], options: argparse.Namespace) -> int:
    print(f"{HEAD}\n|{'---|' * (HEAD.count('|') - 1)}", flush=True)
    wrong = 0
    for name in names or ALL:
        made = ALL[name].made(folder / name, _size(name, options))
        found = brought_in(ALL[name], made, folder / name, folder / f"{name}-trial")
        print(_row(found), flush=True)
        if options.show:
            print(found.shown, "\ntyped:", *map(repr, found.typed))
            _tell(found.compared)
        wrong += len(found.compared.wrong)
    return int(wrong > 0)


def _row(found: Reckoned) -> str:
    cells = found.compared
    figures = (len(found.typed), found.words, round(found.seconds), cells.right, len(cells.wrong), len(cells.flagged), len(cells.waits))  # fmt: skip
    return f"| {found.way.name} | {found.way.told} | {' | '.join(f'{one:,}' for one in figures)} | {found.machine:.1f} |"  # fmt: skip


def _tell(found: Compared) -> None:
    for name, part in (("wrong", found.wrong), ("wrong, flagged", found.flagged), ("wait", found.waits)):
        if len(part):
            columns = ["cultivar", "site", "day", "fruit", "quantity", "value", "value_there", "word", "word_there"]  # fmt: skip
            print(f"{name}:\n{part[columns].head(30).to_string(index=False)}")


if __name__ == "__main__":
    sys.exit(main())
