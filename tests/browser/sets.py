"""Small sets of records that a page has to bear: hostile names, one cultivar, no values, no rows."""

from __future__ import annotations

from pathlib import Path

from tests.records.small import DECLARED, Grid, tables, write_folder

ALERT = "<img src=x onerror=\"window.hurt='img'\">"
SCRIPT = "<script>window.hurt='script'</script>"
HOSTILE_NAMES = (
    ALERT,
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "'\"`\\ ${window.hurt='js'} {{7*7}}",
    "עדן ושלום",
    "\u0627\u0644\u062e\u0648\u062e",
    "Peach 🍑 桃",
    "a,b&c=d+e%2Cf#g?h;i",
    "L" + "o" * 198 + "ng",
    "</td></tr></table><b onmouseover=\"window.hurt='b'\">b",
)
MARKET = """name = "<img src=x onerror=window.hurt=1> & =1+1"
summary = "<svg onload=window.hurt=1> & ‘quotes’"

[[limit]]
trait = "size"
at_least = 2.3
unit = "in"
source = "made up for a test"

[[wish]]
trait = "sugar"
shape = "larger"
from = 8
to = 15
unit = "brix"
source = "made up for a test"
"""


def hostile(folder: Path) -> Path:
    """Every cultivar, site, note and title is text that a careless page would run or a spreadsheet take for a formula."""
    grids = tables()
    head, *rows = grids["cultivars"]
    for number, name in enumerate(HOSTILE_NAMES):
        row = list(rows[number % len(rows)])
        row[0], row[-1] = name, f'=HYPERLINK("http://x") {SCRIPT} {ALERT}'
        rows.append(row)
    grids["cultivars"] = [head, *rows]
    site = ["low", f"Low {ALERT}", "39.5", "station"]
    grids["sites"] = [grids["sites"][0], site, *grids["sites"][2:]]
    samples, fruit = grids["samples"], grids["fruit"]
    for number, name in enumerate(HOSTILE_NAMES):
        for season in (2023, 2024):
            key = f"H{number}-{season}"
            samples.append([key, name, "low", f"{season}-07-{10 + number:02}", "1", "8", "6", "5", SCRIPT])
            fruit += [
                [key, str(one), f"{58 + number + one}", f"{60 + number + one}", f"{40 + one}", f"{41 + one}", f"{10 + one}.5"]
                for one in (1, 2, 3)
            ]  # fmt: skip
    made = write_folder(folder, grids, {**DECLARED, "title": f"Trial {ALERT}", "region": SCRIPT})
    (made / "markets").mkdir()
    (made / "markets" / "hostile.toml").write_text(MARKET, encoding="utf-8")
    return made


def one_cultivar(folder: Path) -> Path:
    """One cultivar, one sample of three fruit."""
    return write_folder(folder, _only("Alvane", {"S1"}))


def no_values(folder: Path) -> Path:
    """Cultivars were picked and every measurement and rating is missing."""
    grids = tables()
    for name, first in (("samples", 5), ("fruit", 2)):
        head, *rows = grids[name]
        grids[name] = [head, *([*row[:first], *([""] * (len(row) - first))] for row in rows)]
    return write_folder(folder, grids)


def no_rows(folder: Path) -> Path:
    """Cultivars are named and nothing else is recorded: every other table is its headings."""
    grids = {name: grid if name == "cultivars" else grid[:1] for name, grid in tables().items()}
    return write_folder(folder, grids)


def _only(cultivar: str, samples: set[str]) -> dict[str, Grid]:
    kept = {}
    for name, (head, *rows) in tables().items():
        if name in ("samples", "fruit"):
            rows = [row for row in rows if row[0] in samples]
        elif "cultivar" in head:
            rows = [row for row in rows if row[head.index("cultivar")] == cultivar]
        kept[name] = [head, *rows]
    return kept
