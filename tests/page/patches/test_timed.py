"""How long a message took is told, whatever became of it."""

from __future__ import annotations

import asyncio
from types import SimpleNamespace

import pytest
from bokeh.server.views.ws import WSHandler

from dashboard.page.patches.timed import Timed


class Library:
    async def _handle(self, message):
        if message.fails:
            raise ValueError("went wrong")
        return "answered"


class Ours(Timed, Library):
    def handled(self, kind, seconds):
        self.told = (kind, seconds >= 0)


def message(fails: bool) -> SimpleNamespace:
    return SimpleNamespace(msgtype="PATCH-DOC", fails=fails)


def test_a_message_is_timed():
    ours = Ours()
    assert asyncio.run(ours._handle(message(False))) == "answered"
    assert ours.told == ("PATCH-DOC", True)


def test_one_that_fails_too():
    ours = Ours()
    with pytest.raises(ValueError, match="went wrong"):
        asyncio.run(ours._handle(message(True)))
    assert ours.told == ("PATCH-DOC", True)


def test_the_library_still_has_the_place():
    assert "_handle" in vars(WSHandler)
