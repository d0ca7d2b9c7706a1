"""Guests: visitors that come, ask something every few seconds, and go; and what they noted."""

from __future__ import annotations

import asyncio
import random
import time
from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.visitor import Visitor

PATIENCE = 120.0  # seconds; what is slow is to be measured, not broken off
FIELDS = ("fruit_type", "flesh_colour", "acidity_class", "shape_type", "stone", "status", "ripening")


@dataclass
class Noted:
    """Seconds for each opening and each change, as the guests met them."""

    openings: list[float] = field(default_factory=list)
    changes: list[float] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    late: list[float] = field(default_factory=list)  # how late this client was itself


class Guest:
    """One visitor; ``seed`` decides what is asked, so equal seeds ask the same."""

    def __init__(self, url: str, seed: int, newcomer: bool = False):
        self._visitor = Visitor(url, patience=PATIENCE)
        self._newcomer = newcomer
        self._chance = random.Random(seed)
        self._here = False

    async def come(self, noted: Noted) -> None:
        since = time.perf_counter()
        try:
            await self._visitor.open(with_files=self._newcomer)
        except Exception as fault:
            noted.faults.append(f"opening: {fault!r}")
            return
        self._visitor.document = {}  # hundreds of them fill this process
        self._here = True
        noted.openings.append(time.perf_counter() - since)

    async def stay(self, noted: Noted, until: float, every: float, first: float | None = None) -> None:
        """Ask something every so many seconds until ``time.perf_counter()`` says ``until``."""
        if not self._here:
            return
        questions = self._questions()
        await asyncio.sleep(self._chance.uniform(0, every) if first is None else first)
        while time.perf_counter() < until:
            since = time.perf_counter()
            try:
                await self._visitor.tick(*next(questions))
            except Exception as fault:
                noted.faults.append(f"change: {fault!r}")
                return
            noted.changes.append(time.perf_counter() - since)
            await asyncio.sleep(max(0.0, every - (time.perf_counter() - since)))

    def go(self) -> None:
        if self._here:
            self._visitor.leave()

    def _questions(self) -> Iterator[tuple[str, list[str]]]:
        """Some of the options of one field or another; never what was ticked before."""
        ticked: dict[str, list[str]] = {}
        while True:
            field_ = self._chance.choice(FIELDS)
            offered = self._visitor.options[field_]
            chosen = [option for option in offered if self._chance.random() < 0.6]
            if chosen != ticked.get(field_, []):
                ticked[field_] = chosen
                yield field_, chosen


async def lateness(noted: Noted, beat: float = 0.01) -> None:
    """Notes how late this process is, for as long as it runs: a client that is late itself measures itself."""
    while True:
        since = time.perf_counter()
        await asyncio.sleep(beat)
        noted.late.append(time.perf_counter() - since - beat)
