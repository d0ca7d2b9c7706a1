"""The bench page: the walk and the measuring of a day as one file, which works without network and keeps what is typed."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pandas as pd
from markupsafe import Markup

from dashboard.charts import style
from dashboard.handout.bench.day import WORDS, Day, Reading, expected
from dashboard.handout.one_file import POLICY, as_one, inside_a_script
from dashboard.places import put
from dashboard.records.importing.bench import FRUIT, HEAD
from dashboard.records.odd_readings import CHEEKS_N, OVAL
from dashboard.records.schema import TABLES
from dashboard.ripening.this_week import AHEAD

_HERE = Path(__file__).parent
# Each after those it imports from.
SCRIPTS = tuple(
    _HERE / f"{name}.js"
    for name in (
        "alone",
        "kept",
        "typed",
        "cells",
        "doubts",
        "entry",
        "filed",
        "drawn",
        "corrected",
        "walking",
        "measuring",
        "bench",
    )
)
SHARES = ("split_pit_pct", "cracked_tip_pct")


def write_page(day: Day, path: Path) -> None:
    """Write the page. OSError where it cannot be written."""
    put(path, page(day).encode("utf-8"))


def page(day: Day, send: str = "") -> str:
    """``send``: where on the server that hands it out what was typed goes, in place of a file."""
    sheet = style.COLOURS_CSS + (_HERE / "bench.css").read_text(encoding="utf-8")
    return Markup((_HERE / "page.html").read_text(encoding="utf-8")).format(
        title=f"Bench: {day.site_name}",
        policy=POLICY + ("; connect-src 'self'" if send else ""),
        style=Markup(sheet),
        site=day.site_name,
        trial=day.catalogue.records_title or "Orchard Slate",
        data=inside_a_script({**known(day), "send": send}),
        script=as_one(SCRIPTS),
    )


def known(day: Day) -> dict[str, Any]:
    """All that the page knows, as ``bench.d.ts`` describes it."""
    samples = TABLES["samples"].by_name
    return {
        "trial": day.catalogue.records_title, "invented": day.catalogue.invented, "site": day.site, "siteName": day.site_name,
        "day": f"{day.on:%Y-%m-%d}", "last": f"{day.on + timedelta(days=AHEAD - 1):%Y-%m-%d}", "units": day.system, "why": day.why,
        "headings": list(day.headings), "above": HEAD, "fruit": FRUIT,
        "instruments": day.instruments,
        "readings": [_reading(one) for one in day.readings],
        "ratings": [
            {"key": name, "word": WORDS[name], "meaning": samples[name].meaning, "low": one.low, "high": one.high, "best": one.best}
            for name, one in day.scales.items()
        ],
        "shares": [{"key": name, "word": WORDS[name], "meaning": samples[name].meaning} for name in SHARES],
        "juice": [_reading(one) | {"key": one.head} for one in day.juice],
        "apart": {"cheeks": CHEEKS_N / day.readings[2].unit.factor, "oval": OVAL},
        "declared": [*day.declaration.sentences[:2], *_left_out(day)],
        "cultivars": _cultivars(day),
    }  # fmt: skip


def _reading(one: Reading) -> dict[str, Any]:
    return {
        "key": one.column.name, "head": one.head, "word": one.word, "unit": one.unit.symbol, "decimals": one.decimals,
        "possible": list(one.possible), "usual": list(one.usual), "past": one.past,
    }  # fmt: skip


def _left_out(day: Day) -> list[str]:
    """What this trial cannot use, so that nobody measures it for nothing."""
    refused = [one.word for one in day.readings if day.declaration.refusal(one.column.name)]
    refused += [WORDS[name] for name in day.scales if day.declaration.refusal(name)]
    return [f"The trial will not use these readings: {', '.join(refused)}. Its declaration says why."] if refused else []  # fmt: skip


def _cultivars(day: Day) -> list[dict[str, Any]]:
    """First what may be ripe, then what else stands here, both in walking order; then the others of the trial."""
    size, sugar = day.usual_fruit("size"), day.usual_fruit("sugar")
    week = {str(row["cultivar"]): row for row in day.rows.to_dict("records")}
    here = {str(row["cultivar"]): row for row in day.here.to_dict("records")}
    others = [
        name for name in map(str, day.catalogue.cultivars.index) if name not in here and name not in week
    ]
    return [
        _cultivar(name, week.get(name), here.get(name, {}), day.picks.get(name, 0) + 1, size, sugar)
        for name in dict.fromkeys([*week, *here, *others])
    ]


def _cultivar(name: str, row: dict | None, stands: dict, pick: int, size: pd.DataFrame, sugar: pd.DataFrame) -> dict:  # fmt: skip
    told: dict[str, Any] = {"name": name, "pick": pick}
    for key in ("row", "position"):
        if key in stands and pd.notna(stands[key]):
            told[key] = str(stands[key])
    if stands:
        told["here"] = True
    if row is not None:
        told |= {"when": expected(row), "remark": str(row["remark"]), "first": row["look_first"] == "yes"}
        if pd.notna(row["chance_pct"]):
            told["chance"] = int(row["chance_pct"])
    for key, usual in (("size", size), ("sugar", sugar)):
        if name in usual.index:
            told[key] = [round(float(usual[side][name]), 3) for side in ("middle", "reach")]
    return told
