"""Rules that break one table of a folder. Each returns how many rows the table then holds, None where as many as before."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from random import Random

Rule = Callable[[Path, Random], int | None]
RULES: dict[str, Rule] = {}


def rule(act: Rule) -> Rule:
    RULES[act.__name__] = act
    return act


def lines_of(file: Path) -> list[str]:
    return file.read_text(encoding="utf-8").splitlines()


def put(file: Path, lines: list[str]) -> None:
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")


def changed(file: Path, chance: Random, change: Callable[[list[str]], list[str]], share: float = 0.1) -> None:
    """Some rows below the headings changed, cell by cell."""
    head, *lines = lines_of(file)
    put(
        file,
        [head, *(",".join(change(line.split(","))) if chance.random() < share else line for line in lines)],
    )


@rule
def truncated(file: Path, chance: Random) -> int:
    raw = file.read_bytes()
    cut = raw[: chance.randrange(len(raw) // 3, len(raw) - 5)]
    file.write_bytes(cut)
    return max(0, cut.count(b"\n") - 1)


@rule
def headings_swapped(file: Path, chance: Random) -> None:
    head, *lines = lines_of(file)
    cells = head.split(",")
    one, other = chance.sample(range(len(cells)), 2)
    cells[one], cells[other] = cells[other], cells[one]
    put(file, [",".join(cells), *lines])


@rule
def cells_swapped(file: Path, chance: Random) -> None:
    changed(file, chance, lambda cells: chance.sample(cells, len(cells)))


@rule
def marks_strewn(file: Path, chance: Random) -> None:
    text = list(file.read_text(encoding="utf-8"))
    for _ in range(chance.choice((1, 2, 50))):
        text.insert(chance.randrange(text.index("\n"), len(text)), '"')
    file.write_text("".join(text), encoding="utf-8")


@rule
def breaks_in_marks(file: Path, chance: Random) -> None:
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("\n", chance.choice(('"\n"', '\n"\n', '",\n"'))), encoding="utf-8")


@rule
def many_breaks_in_marks(file: Path, chance: Random) -> None:
    head = lines_of(file)[0]
    inside = chance.choice(('"\n\n\n"\n', '"a\n', f'"{chr(10) * 200}",\n'))
    file.write_text(f"{head}\n" + inside * (1_000_000 // len(inside)), encoding="utf-8")


@rule
def other_encoding(file: Path, chance: Random) -> None:
    text = file.read_text(encoding="utf-8") + "é,ß\n"
    file.write_bytes(
        text.encode(chance.choice(("utf-16", "utf-16-le", "utf-32", "latin-1", "cp037", "utf-7")))
    )


@rule
def nothing_in_it(file: Path, chance: Random) -> None:
    file.write_bytes(
        chance.choice((b"", b"\xef\xbb\xbf", b" \n\r\n", b"\xef\xbb\xbf\n\n", b"\0", b'""', b",,,\n,,,\n"))
    )


@rule
def headings_alone(file: Path, chance: Random) -> int:
    put(file, lines_of(file)[:1])
    return 0


@rule
def renamed(file: Path, chance: Random) -> None:
    file.rename(file.with_name(chance.choice((f"{file.stem}s.csv", f"x{file.name}", f"{file.stem} (1).csv"))))


@rule
def twice(file: Path, chance: Random) -> None:
    file.with_name(file.name.upper()).write_bytes(file.read_bytes())


@rule
def no_file(file: Path, chance: Random) -> int | None:
    file.unlink()
    kind = chance.choice(("folder", "link to nothing", "link to itself", "pipe", "device", "gone"))
    if kind == "folder":
        file.mkdir()
    elif kind == "pipe":
        os.mkfifo(file)
    elif kind == "gone":
        return 0  # nobody handed it over
    else:
        file.symlink_to(
            {"link to nothing": "nowhere", "link to itself": file.name, "device": "/dev/zero"}[kind]
        )
    return None


@rule
def something_else(file: Path, chance: Random) -> None:
    start = chance.choice(
        (b"PK\x03\x04", b"%PDF-1.7", b"\x89PNG\r\n", b"\x1f\x8b", b"\xd0\xcf\x11\xe0", b"<html>", b"\x7fELF")
    )
    file.write_bytes(start + chance.randbytes(5000))


@rule
def bytes_flipped(file: Path, chance: Random) -> int:
    raw = bytearray(file.read_bytes())
    for _ in range(chance.choice((1, 10, 300))):
        raw[chance.randrange(len(raw))] = chance.randrange(1, 128)
    file.write_bytes(raw)
    # Where a line break was hit, two rows are one from then on.
    return sum(bool(line.strip(b" ,;\t\r")) for line in raw.split(b"\n")[1:])


@rule
def other_marks(file: Path, chance: Random) -> None:
    text = file.read_text(encoding="utf-8")
    mark = chance.choice((";", "\t", "|"))
    text = text.replace(",", mark)
    file.write_text(text.replace(".", ",") if chance.random() < 0.5 else text, encoding="utf-8")


@rule
def far_too_wide(file: Path, chance: Random) -> None:
    head, *lines = lines_of(file)
    columns = chance.choice((150, 1000, 5000))
    names = ",".join(f"reading {number}" for number in range(columns))
    put(
        file,
        [
            f"{head},{names}",
            *(f"{line},{'1,' * (columns - 1)}1" for line in lines[: 40_000_000 // columns // 40]),
        ],
    )


@rule
def one_line(file: Path, chance: Random) -> None:
    kept = lines_of(file)[: chance.choice((4, 50, None))]
    file.write_text(chance.choice((" ", ",", ";")).join(kept), encoding="utf-8")


@rule
def nothings_strewn(file: Path, chance: Random) -> None:
    strange = chance.choice(("\0", "\u200b", "\u2028", "\x0c", "\x85", "\u202e"))
    changed(file, chance, lambda cells: [cell + strange for cell in cells], 0.02)


@rule
def read_twice(file: Path, chance: Random) -> None:
    file.write_bytes(file.read_bytes() * chance.choice((2, 3)))


@rule
def cells_blown_up(file: Path, chance: Random) -> None:
    large = chance.choice(
        (
            "x" * 200_000,
            "9" * 5000,
            "1e400",
            "=1+1",
            "<b>x</b>",
            "&" * 40_000,
            "1" + "e" * 30_000,
            "-" * 40_000,
        )
    )

    def change(cells: list[str]) -> list[str]:
        cells[chance.randrange(len(cells))] = large
        return cells

    changed(file, chance, change, 0.01)


@rule
def figures_as_elsewhere(file: Path, chance: Random) -> None:
    form = chance.choice(
        (
            "1,234.5",
            '"1.234,5"',
            '"12,5"',
            "½",
            "12 mm",
            "٣٤",
            "1_000",
            "0x1F",
            "#REF!",
            "NaN",
            "31.12.2024",
            "2024-02-30",
        )
    )

    def change(cells: list[str]) -> list[str]:
        cells[-1] = form
        return cells

    changed(file, chance, change, 0.5)


@rule
def column_gone(file: Path, chance: Random) -> None:
    place = chance.randrange(len(lines_of(file)[0].split(",")))
    put(
        file,
        [
            ",".join(cells[:place] + cells[place + 1 :])
            for cells in (line.split(",") for line in lines_of(file))
        ],
    )


@rule
def rows_longer_and_shorter(file: Path, chance: Random) -> None:
    changed(
        file,
        chance,
        lambda cells: chance.choice((cells[:2], [*cells, "x"], [*cells, "", "", "y"], cells * 3)),
    )


@rule
def lines_end_otherwise(file: Path, chance: Random) -> None:
    text = file.read_text(encoding="utf-8")
    file.write_bytes(text.replace("\n", chance.choice(("\r", "\r\n", "\n\n", "\r\r\n", " \n"))).encode())


@rule
def headings_again_and_again(file: Path, chance: Random) -> None:
    head, *lines = lines_of(file)
    put(file, [head, *(head if chance.random() < 0.05 else line for line in lines)])


@rule
def names_disguised(file: Path, chance: Random) -> None:
    act = chance.choice(
        (
            str.upper,
            str.title,
            lambda cell: f" {cell} ",
            lambda cell: cell.replace("a", "а"),
            lambda cell: f"'{cell}",
        )
    )
    changed(file, chance, lambda cells: [act(cells[0]), *cells[1:]], 0.2)


@rule
def very_long(file: Path, chance: Random) -> int | None:
    """Far more lines than a table has, in one of the ways that is refused."""
    head = lines_of(file)[0]
    fill = chance.choice((b"\n", b",\n", b"\r", b"1,2\n"))
    file.write_bytes(head.encode() + b"\n" + fill * (60_000_000 // len(fill)))
    return None
