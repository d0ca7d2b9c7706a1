"""The handout as a workbook: summary, ranking, traits, season and meanings. Text stays text, numbers stay numbers."""

from __future__ import annotations

import io
from typing import Any

import pandas as pd
import xlsxwriter

from dashboard.answers.catalogue import windows_at
from dashboard.answers.question import Question
from dashboard.handout import tables
from dashboard.handout.asking import with_shortlist
from dashboard.handout.plan_page import day_rows
from dashboard.handout.summary_page import question
from dashboard.records.plain_text import AS_TEXT
from dashboard.ripening import day_label
from dashboard.ripening.model import KINDS
from dashboard.terms.glossary import TERMS
from dashboard.terms.traits import TRAITS
from dashboard.terms.units import rounded
from dashboard.wording import figures as words
from dashboard.wording.cautions import CAUTIONS

ENDS = (("first", "first_low", "first_high"), ("last", "last_low", "last_high"))


def xlsx(asked: Question) -> bytes:
    """The shortlist or, while that is empty, the first of the ranking."""
    strip = asked.strip if asked.shortlist else None
    asked, out = with_shortlist(asked), io.BytesIO()
    with xlsxwriter.Workbook(out, AS_TEXT) as book:
        book.set_properties({"title": words.records_name(asked.catalogue), "author": "Orchard Slate"})
        tables.write_lines(book, "summary", summary(asked))
        tables.write_rows(book, "ranking", ranking(asked))
        tables.write_rows(book, "traits", traits(asked))
        tables.write_rows(book, "season", season(asked))
        if strip:
            tables.write_rows(book, "selling days", day_rows(asked, strip))
        explained = [(term.name, f"{term.meaning}{f' ({term.source})' if term.source else ''}") for term in TERMS]  # fmt: skip
        tables.write_lines(book, "meanings", [*tables.meanings(asked), *explained])
    return out.getvalue()


def summary(asked: Question) -> list[tuple[str, str]]:
    return [
        ("Records", words.records_name(asked.catalogue)),
        *question(asked),
        *([("No chances", asked.refused)] if asked.refused else []),
        *(("Caution", caution) for caution in CAUTIONS),
    ]


def ranking(asked: Question) -> pd.DataFrame:
    """The columns of the page's own file, in the order of the ranking."""
    table = tables.table(asked, "shortlist")
    table.insert(1, "Place", asked.shortlisted["rank"].to_numpy())
    return table.sort_values("Place", ignore_index=True)


def traits(asked: Question) -> pd.DataFrame:
    """A row a cultivar and trait, in the reader's units; what has no reading stays empty."""
    rows: list[dict[str, Any]] = []
    for name in asked.shortlisted.sort_values("rank", kind="stable").index:
        for key, trait in TRAITS.items():
            own: Any = asked.values[key].loc[name]
            unit, digits = trait.unit(asked.units), trait.decimals(asked.units) + 1
            figures = {
                label: rounded(float(unit.from_si(float(own[column]))), digits)
                for label, column in (("Estimate", "estimate"), ("Low", "low"), ("High", "high"))
            }
            counts = {column.capitalize(): int(own[column]) for column in ("fruit", "samples", "sites", "seasons")}  # fmt: skip
            if not trait.on_fruit:
                counts["Fruit"] = None  # type: ignore[assignment]
            rows.append({
                "Cultivar": str(name), "Trait": trait.label, "Unit": unit.symbol, **figures,
                "Reliability": round(float(own["reliability"]), 2), **counts, "Method": str(own["method"]),
            })  # fmt: skip
    return pd.DataFrame(rows)


def season(asked: Question) -> pd.DataFrame:
    """A row a cultivar and kind of season: dates of the first and last pick to be expected, each between two others (90 %)."""
    south = asked.catalogue.south
    kinds = ("ordinary",) if asked.catalogue.ripening.refused else tuple(KINDS)
    rows: list[dict[str, Any]] = []
    where = words.site_name(asked.catalogue, asked.site) if asked.site else "over the sites"
    for kind in kinds:
        windows = windows_at(asked.catalogue, asked.site, kind)
        for name in asked.shortlisted.sort_values("rank", kind="stable").index:
            window: Any = windows.loc[name]
            row = {"Cultivar": str(name), "Season": kind, "Site": where}
            for end, low, high in ENDS:
                known = window[end] == window[end]
                for label, column in (("", end), (", low", low), (", high", high)):
                    row[f"{end.capitalize()} pick{label}"] = day_label(window[column], south) if known else ""
            rows.append(row | {"Days from the check cultivar": rounded(float(window["from_check"]), 1), "Seasons of evidence": int(window["seasons"])})  # fmt: skip
    table = pd.DataFrame(rows)
    return table.sort_values("Cultivar", kind="stable", ignore_index=True) if len(table) else table
