"""The tables on one cultivar: what it is worth and on what that rests, beside the checks, against the market, its samples."""

from __future__ import annotations

from collections.abc import Callable

import pandas as pd

from dashboard.answers.dossier import BESIDE_CHECKS
from dashboard.answers.question import Question
from dashboard.charts import listing
from dashboard.page.parts.paged import standing
from dashboard.ripening import picked_label
from dashboard.terms.traits import FRUIT_TRAITS, TRAITS
from dashboard.wording import account as reckoning
from dashboard.wording.cautions import RELIABILITY
from dashboard.wording.figures import basis_told, chance, counted, site_name
from dashboard.wording.past_ends import past_ends
from dashboard.wording.trait_rows import VALUES, value_rows

PAGE = 12


def values_view(asked: Question) -> dict:
    """Every trait with interval, reliability and evidence."""
    return {
        "title": f"What it is worth ({basis_told(asked)}), and what that rests on. {RELIABILITY}; "
        "the less it is, the more an estimate is drawn to the usual.",
        **listing.of_its_own(asked, VALUES, value_rows(asked)),
    }  # fmt: skip


def checks_view(asked: Question) -> dict:
    """How far it stands from the checks that ripen when it does; a refusal is told in its own words."""
    assert asked.dossier is not None
    rows = []
    for key in BESIDE_CHECKS:
        trait, told = TRAITS[key], asked.dossier["checks"][key]
        if told["refused"] or pd.isna(told["estimate"]):
            cells = [trait.label, "", "", "", str(told["refused"] or "Not measured.")]
        else:
            by, low, high = (trait.difference(told[end], asked.units) for end in ("estimate", "low", "high"))
            cells = [
                trait.heading(asked.units), str(told["against"]), f"{by} ({low} to {high})",
                chance(told["above"]), "" if told["together"] else "They never stood together; other cultivars join them.",
            ]  # fmt: skip
        rows.append({"id": key, "name": trait.label, "cells": cells})
    return {
        "title": "Beside the check cultivars that ripen when it does (over all sites)",
        "columns": [
            {"key": "trait", "label": "Trait"}, {"key": "against", "label": "Check"},
            {"key": "difference", "label": "Difference, likely range (90 %)", "kind": "number"},
            {"key": "above", "label": "Chance it is truly higher", "kind": "number"}, {"key": "remark", "label": "", "kind": "reason"},
        ],
        "rows": rows,
    }  # fmt: skip


def chances_view(asked: Question) -> dict:
    """Three different questions about each of the market's limits on a trait."""
    rows = [{"id": str(number), **row} for number, row in enumerate(reckoning.limit_rows(asked))]
    return {
        "title": reckoning.limits_title(asked),
        **listing.of_its_own(asked, reckoning.LIMITS, rows),
        "empty": reckoning.NO_LIMITS,
    }  # fmt: skip


def samples_view(asked: Question, page: int) -> dict:
    """Every sample, newest first; a press on its date opens its fruit."""
    rows = _newest_first(asked)
    page, pages, here = standing(page, len(rows), PAGE)
    shown = ("size", "firmness", "cheek_difference", "sugar", "red", "attractiveness", "split_pit")
    part = rows.iloc[here]
    return {
        "title": f"Its {counted(len(rows), 'sample')}, newest first; press a date for the fruit of that sample",
        "columns": [
            {"key": "date", "label": "Picked", "kind": "name"}, {"key": "site", "label": "Site"}, {"key": "pick", "label": "Pick", "kind": "number"},
            {"key": "fruit", "label": "Fruit", "kind": "number"},
            *({"key": key, "label": TRAITS[key].heading(asked.units), "kind": "number"} for key in shown),
        ],
        "rows": [
            {
                "id": str(r["sample"]), "name": str(r["sample"]),
                "cells": [
                    picked_label(r["date"], r["slack"], r["season"]), site_name(asked.catalogue, r["site"]), f"{r['pick']:.0f}" if pd.notna(r["pick"]) else "–",
                    f"{r['fruit']:.0f}", *(TRAITS[key].written(r[key], asked.units) for key in shown),
                ],
            }
            for _, r in part.iterrows()
        ],
        "page": page, "pages": pages, "total": len(rows), "empty": "No samples of this cultivar are recorded.",
    }  # fmt: skip


def page_of(asked: Question, sample: str) -> int:
    """The page of ``samples_view`` that a sample stands on; 1 where it stands on none."""
    here = (_newest_first(asked)["sample"].astype(str) == sample).to_numpy(dtype=bool)
    return int(here.argmax()) // PAGE + 1


def _newest_first(asked: Question) -> pd.DataFrame:
    assert asked.dossier is not None
    return asked.dossier["samples"].sort_values(
        ["season", "date", "site"], ascending=[False, False, True], kind="stable"
    )


# What was read of one fruit, out of its traits: the two diameters have their mean and their ratio, the two cheeks their mean and how far
# they are apart, so which cheek came first is not known any more.
READINGS: dict[str, tuple[str, str, Callable[[pd.Series], float]]] = {
    "suture": ("At the suture", "size", lambda r: 2 * r["size"] * r["roundness"] / (1 + r["roundness"])),
    "cross": ("Across", "size", lambda r: 2 * r["size"] / (1 + r["roundness"])),
    "firmer": ("Firmer cheek", "firmness", lambda r: r["firmness"] + r["cheek_difference"] / 2),
    "softer": ("Softer cheek", "firmness", lambda r: r["firmness"] - r["cheek_difference"] / 2),
}


def fruit_view(asked: Question, sample: str) -> dict:
    """Every fruit of one sample of the opened cultivar, as measured: its readings, then the traits they make."""
    assert asked.dossier is not None
    fruit = asked.dossier["fruit"]
    part = fruit[(fruit["sample"].astype(str) == sample).to_numpy(dtype=bool)]
    shown = [key for key in FRUIT_TRAITS if key in part]
    past = past_ends(asked.catalogue.records_tables.get("beyond"), sample, asked.units)
    return {
        "title": f"{counted(len(part), 'fruit').removesuffix('s')} of this sample ({sample}), as measured" + (past and f". {past}"),
        "columns": [
            {"key": "number", "label": "Fruit", "kind": "number"},
            *({"key": part, "label": f"{words} ({TRAITS[key].unit(asked.units).symbol})", "kind": "number"} for part, (words, key, _) in READINGS.items()),
            *({"key": key, "label": TRAITS[key].heading(asked.units), "kind": "number"} for key in shown),
        ],
        "rows": [
            {
                "id": f"{sample}-{number}", "name": str(number),
                "cells": [
                    f"{number}", *(TRAITS[key].written(read(r), asked.units) for _, key, read in READINGS.values()),
                    *(TRAITS[key].written(r[key], asked.units) for key in shown),
                ],
            }
            for number, (_, r) in enumerate(part.iterrows(), start=1)
        ],
        "empty": "No fruit of this sample is on record.",
    }  # fmt: skip
