"""What a phase of load came to, as a line of a table, and what limits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from tests.load.guests import Noted

HEAD = (
    "| phase | changes | p50 / p95 / p99 / worst ms | openings | p50 / p95 / worst ms | processor % | ms a change | ms an opening "
    "| memory MB | collections: longest, % of time | loop held > 100 ms: times, longest ms (processor) | client: late p99 ms, processor % | load | faults |"
)


@dataclass(frozen=True)
class Server:
    """What the server told of a phase: seconds, bytes."""

    wall: float
    processor: float
    memory: int
    collections: list[tuple[int, float]]
    stalls: list[tuple[float, float]]


def line(phase: str, noted: Noted, servers: list[Server], client: float, load: float) -> str:
    """``servers`` are the processes, each told for itself; ``client`` is the processor's share of this one."""
    pauses = [seconds for server in servers for _, seconds in server.collections]
    stalls = [stall for server in servers for stall in server.stalls]
    late = [seconds for seconds, _ in stalls if seconds > 0.1]
    longest = max(stalls, default=(0.0, 0.0))
    wall, processor = servers[0].wall, sum(server.processor for server in servers)
    cells = (
        phase,
        len(noted.changes),
        _shares(noted.changes, 50, 95, 99, 100),
        len(noted.openings),
        _shares(noted.openings, 50, 95, 100),
        " + ".join(f"{100 * server.processor / wall:.0f}" for server in servers),
        _each(processor, noted.changes, noted.openings),
        _each(processor, noted.openings, noted.changes),
        " + ".join(f"{server.memory / 1e6:.0f}" for server in servers),
        f"{1000 * max(pauses, default=0):.0f} ms, {100 * sum(pauses) / wall / len(servers):.1f}",
        f"{len(late)}, {1000 * longest[0]:.0f} ({1000 * max((own for _, own in stalls), default=0):.0f})",
        f"{_shares(noted.late, 99)}, {100 * client:.0f}",
        f"{load:.1f}",
        len(noted.faults),
    )
    return f"| {' | '.join(str(cell) for cell in cells)} |"


def limit(noted: Noted, servers: list[Server]) -> str:
    """What stood in the way most at the busiest process, in a sentence."""
    server = max(servers, key=lambda one: one.processor)
    pauses = sum(seconds for _, seconds in server.collections)
    late = sum(seconds for seconds, _ in server.stalls)
    if noted.late and np.percentile(noted.late, 99) > 0.05:
        return "the client itself was late: the figures are its own as much as the server's"
    if server.processor > 0.85 * server.wall:
        return "the one core of a process"
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
