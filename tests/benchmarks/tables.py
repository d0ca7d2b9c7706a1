"""Rows as a Markdown table, ready for docs/benchmarks.md."""

from __future__ import annotations


def markdown(rows: list[dict[str, str]]) -> str:
    heads = list(rows[0])
    widths = [max(len(head), *(len(row[head]) for row in rows)) for head in heads]

    def line(cells) -> str:
        return "| " + " | ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)) + " |"

    rule = "|" + "|".join("-" * (width + 2) for width in widths) + "|"
    return "\n".join([line(heads), rule, *(line(row.values()) for row in rows)])
