"""At which addresses the pages of this room stand."""

from __future__ import annotations

from typing import Any

from dashboard.serving.bringing import bench, pages
from dashboard.serving.bringing.door import LogIn, LogOut
from dashboard.serving.bringing.frame import HOME
from dashboard.serving.bringing.room import Room

_TRAY = rf"{HOME}/trays/([0-9a-f]{{16}})"


def routes(room: Room) -> list[tuple[str, type, dict[str, Any]]]:
    handlers = (
        (rf"{HOME}/?", pages.Home), (f"{HOME}/bench", bench.Bench), (bench.SEND, bench.Send), (f"{HOME}/login", LogIn), (f"{HOME}/logout", LogOut), (f"{HOME}/undo", pages.Undo),
        (f"{HOME}/trays", pages.NewTray), (_TRAY, pages.OneTray), (f"{_TRAY}/files", pages.Upload), (f"{_TRAY}/doing", pages.Doing),
        (f"{_TRAY}/set_aside.xlsx", pages.Aside), (f"{_TRAY}/(read|answers|differing|ask_again|longer|keep|leave)", pages.Does),
        (f"{HOME}/.*", pages.NotThere),
    )  # fmt: skip
    return [(path, handler, {"room": room}) for path, handler in handlers]
