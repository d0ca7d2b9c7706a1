"""What a phase of load came to, as a line of a table, and what limits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from tests.load.guests import Noted

HEAD = (
    "| phase | changes | p50 / p95 / p99 / worst ms | openings | p50 / p95 / worst ms | processor % | ms a change | ms an opening "
    "| memory MB | collections: longest, % of time | loop held > 100 ms: times, longest ms (processor) | client late p99 ms | load | faults |"
)


@dataclass(frozen=True)
class Server:
    """What the server told of a phase: seconds, bytes."""

    wall: float
    processor: float
    memory: int
    collections: list[tuple[int, float]]
    stalls: list[tuple[float, float]]


def line(phase: str, noted: Noted, server: Server, load: float) -> str:
    pauses = [seconds for _, seconds in server.collections]
    late = [seconds for seconds, _ in server.stalls if seconds > 0.1]
    longest = max(server.stalls, default=(0.0, 0.0))
    cells = (
        phase,
        len(noted.changes),
        _shares(noted.changes, 50, 95, 99, 100),
        len(noted.openings),
        _shares(noted.openings, 50, 95, 100),
        f"{100 * server.processor / server.wall:.0f}",
        _each(server.processor, noted.changes, noted.openings),
        _each(server.processor, noted.openings, noted.changes),
        f"{server.memory / 1e6:.0f}",
        f"{1000 * max(pauses, default=0):.0f} ms, {100 * sum(pauses) / server.wall:.1f}",
        f"{len(late)}, {1000 * longest[0]:.0f} ({1000 * max((own for _, own in server.stalls), default=0):.0f})",
        _shares(noted.late, 99),
        f"{load:.1f}",
        len(noted.faults),
    )
    return f"| {' | '.join(str(cell) for cell in cells)} |"


def limit(noted: Noted, server: Server) -> str:
    """What stood in the way most, in a sentence."""
    pauses = sum(seconds for _, seconds in server.collections)
    late = sum(seconds for seconds, _ in server.stalls)
    if noted.late and np.percentile(noted.late, 99) > 0.05:
        return "the client itself was late: the figures are its own as much as the server's"
    if server.processor > 0.85 * server.wall:
        return "the one core of the process"
    if pauses > late / 2 and pauses > 0.01 * server.wall:
        return "collections of garbage"
    if late > 0.05 * server.wall:
        return "work that holds the event loop: openings where there were any"
    return "nothing yet"


def _shares(seconds: list[float], *per_cent: int) -> str:
    return " / ".join(f"{1000 * np.percentile(seconds, share):.0f}" for share in per_cent) if seconds else "–"


def _each(processor: float, these: list[float], others: list[float]) -> str:
    """Only where nothing else was done meanwhile."""
    return f"{1000 * processor / len(these):.1f}" if these and not others else "–"


def server(before: dict[str, Any], after: dict[str, Any], wall: float) -> Server:
    return Server(
        wall, after["processor"] - before["processor"], after["memory"], after["collections"], after["stalls"]
    )
