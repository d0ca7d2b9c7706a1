"""Write ``with_errors/``: a small invented data set with the mistakes that people make.

``python demo_data/make_errors.py`` makes the folder anew, byte for byte the same. ``orchard-slate check
demo_data/with_errors`` tells them all. Cultivars and sites are coined; nothing in it is real.
"""

from __future__ import annotations

import csv
import json
import random
from datetime import date, timedelta
from pathlib import Path

FOLDER = Path(__file__).resolve().parent / "with_errors"

MARKUP = "<b>Gorvette</b>"  # a name pasted from a web page
FORMULA = "=cmd|' /C calc'!A0"  # a note that a spreadsheet would run

CULTIVARS = (
    ("Borrevin", "peach", "yellow", "free", "released", "yes"),
    ("Calthrow", "peach", "yellow", "free", "released", "no"),
    ("Dremmick", "peach", "white", "freestone", "released", "no"),  # the word of the schema is free
    ("Esvalle", "nectarine", "yellow", "free", "released", "no"),
    ("Fennark", "nectarine", "white", "cling", "released", "no"),
    (MARKUP, "peach", "yellow", "free", "released", "no"),
    ("Hallisk", "peach", "yellow", "semi-free", "released", "no"),
    ("Ivorrin", "nectarine", "yellow", "free", "released", "no"),
    ("Jaskell", "peach", "white", "free", "released", "no"),
    ("Korrabel", "peach", "yellow", "cling", "released", "no"),
    ("N 21-004", "peach", "yellow", "free", "numbered selection", "no"),
    ("N 22-117", "nectarine", "white", "free", "numbered selection", "no"),
)


def main() -> None:
    chance = random.Random(20260214)
    samples, fruit = _samples(chance), []
    for row in samples:
        fruit += _fruit(chance, row[0])
    _spoil_samples(samples)
    _spoil_fruit(fruit)
    FOLDER.mkdir(exist_ok=True)
    _write("cultivars", ("cultivar", "fruit_type", "flesh_colour", "stone", "status", "check"), CULTIVARS)
    _write(
        "sites",
        ("site", "name", "latitude_deg"),
        (("quarrel", "Quarrel Bank", 39.4), ("upper", "Upper Lode", 39.5)),
    )
    _write(
        "samples",
        ("sample", "cultivar", "site", "date", "pick", "shape", "red", "colour card", "note"),
        samples,
    )
    _write(
        "fruit",
        ("sample", "fruit", " Suture_MM ", "cross_mm", "firmness_1_lbf", "firmness_2_lbf", "ssc_brix"),
        fruit,
    )
    _write(
        "yields",
        ("cultivar", "site", "year", "pick", "oz_per_tree", "trees"),
        (("Borrevin", "quarrel", 2024, 1, 640, 3),),
    )
    (FOLDER / "bloom.csv").write_bytes(b"")
    about = {
        "title": "Quarrel Bank, with mistakes",
        "region": "invented",
        "invented": True,
        "tip_mm": 8,
        "temperature_compensated": True,
        "full_bloom_open_pct": 50,
        "seasons": [2023, 2024],
    }
    package = {"name": "with-errors", "title": about["title"], "resources": [], "orchard_slate": about}
    package["resources"] = [
        {"name": name, "path": f"{name}.csv"}
        for name in ("cultivars", "sites", "samples", "fruit", "yields", "bloom")
    ]
    (FOLDER / "datapackage.json").write_text(json.dumps(package, indent=2) + "\n", encoding="utf-8")


def _samples(chance: random.Random) -> list[list]:
    rows: list[list] = []
    for season in (2023, 2024):
        for number, (cultivar, *_) in enumerate(CULTIVARS):
            for pick, site in ((1, "quarrel"), (2, "upper")):
                picked = date(season, 6, 20) + timedelta(days=5 * number + 5 * pick + chance.randrange(3))
                row = [f"Q{len(rows) + 1:03d}", cultivar, site, picked.isoformat(), pick]
                rows.append([*row, chance.randrange(5, 10), chance.randrange(4, 10), "", ""])
    return rows


def _fruit(chance: random.Random, sample: str) -> list[list]:
    size, firmness, sugar = chance.gauss(66, 3), chance.gauss(10, 1.5), chance.gauss(12, 1)
    return [
        [
            sample,
            number,
            f"{chance.gauss(size, 2):.1f}",
            f"{chance.gauss(size, 2):.1f}",
            f"{chance.gauss(firmness, 0.6):.1f}",
            f"{chance.gauss(firmness, 0.6):.1f}",
            f"{chance.gauss(sugar, 0.6):.1f}",
        ]
        for number in range(1, 11)
    ]


def _spoil_samples(rows: list[list]) -> None:
    rows[1][1] = "Calthow"  # no such cultivar
    rows[4][3] = "03/07/2024"  # the third of July, or the seventh of March
    rows[6][5] = 11  # on a scale that ends at 10
    rows[7][8] = FORMULA
    rows[9][7] = "B4"  # a column that the schema does not have
    rows.append([*rows[10][:5], 9 if rows[10][5] != 9 else 8, *rows[10][6:]])  # one key, two contents
    rows.append(list(rows[12]))  # the same row once more
    rows.append([rows[19][0], "Hallisk", *rows[19][2:]])  # one name for two samples


def _spoil_fruit(rows: list[list]) -> None:
    rows[100][2] = "6.55"  # a slipped decimal point
    rows[101][3] = "2.5 in"
    rows[102][6] = "12,5"
    rows[103][4] = "14 N"
    rows[104][5] = "nan"
    rows[110][2] = "65½"
    rows[111][4] = rows[111][5] = "0"  # nothing was measured
    rows.append(["Q999", 1, *rows[0][2:]])  # a sample that nobody wrote down


def _write(name: str, headings: tuple, rows) -> None:
    with (FOLDER / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(headings)
        table.writerows(rows)


if __name__ == "__main__":
    main()
