"""An element with a script of its own, by public names: what it runs, how it is dressed, what it hears and what it sends.

Seen on: panel 1.9.4.
Mends: Panel's ``JSComponent`` is written by names that begin with an underscore. A script named twice, as source and as bundle, is
fetched and kept by the browser; named as source alone it is sent as text and compiled each time a page opens. What a bundle imports from
beside it is not handed out: only what stands in a list of the class is, and a bundle is one file. ``_js`` is such a list, of no use otherwise.
Upstream: docs/upstream.md, "Scripts of a component".
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any, ClassVar

from panel.custom import JSComponent
from panel.io.resources import component_resource_path
from panel.io.state import state
from tornado.web import RequestHandler

from dashboard.page.patches.bare import Bare
from dashboard.page.patches.one_script import AT, OneScript, one_script

_KEPT = "public, max-age=31536000, immutable"  # its address changes with what it holds
_OURS: dict[str, type[Element]] = {}


class Element(Bare, JSComponent):
    """``script`` draws it in the browser, ``parts`` are what it imports from beside it, each after those it imports itself; ``dress`` are its
    stylesheets; ``heard`` is called with what the script sends."""

    script: ClassVar[Path]
    parts: ClassVar[tuple[Path, ...]] = ()
    dress: ClassVar[tuple[str, ...]] = ()

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        # Past Param, which takes a class for its own only once it is made.
        for name, value in (
            ("_esm", cls.script),
            ("_bundle", cls.script),
            ("_js", [*cls.parts, cls.script]),
            ("_stylesheets", [*cls.dress]),
        ):
            type.__setattr__(cls, name, value)
        if cls.__module__.startswith("dashboard."):
            _OURS[cls.__name__] = cls

    @classmethod
    def _component_resource_path(cls, esm_path: Path, compiled: bool) -> str:
        if not cls.parts:
            return super()._component_resource_path(esm_path, compiled)
        return component_resource_path(cls, "_js", esm_path)

    @classmethod
    def _render_esm(cls, compiled: Any = True, server: bool = False) -> str:
        """Where no server is, in a notebook, the script carries its parts."""
        if server and Handed.out and _OURS.get(cls.__name__) is cls and cls.__name__ in all_scripts().names:
            return f"{state.rel_path or '.'}/{all_scripts().address}"
        if server or not cls.parts:
            return super()._render_esm(compiled=compiled, server=server)
        return joined(*cls.parts, cls.script)

    def heard(self, msg: Any) -> None:
        """What the browser sends, as the visitor's program wrote it: not to be trusted."""

    def send(self, msg: Any) -> None:
        """To the script, where it listens for ``msg:custom``."""
        self._send_msg(msg)

    def _handle_msg(self, data: Any) -> None:
        self.heard(data)


@cache
def all_scripts() -> OneScript:
    """Of every element there is when a page is first made."""
    parts = (part for element in _OURS.values() for part in element.parts)
    return one_script({name: element.script for name, element in _OURS.items()}, parts)


class Handed(RequestHandler):
    """Hands out the one script; where it does not stand among a server's routes, ``out`` is False and every element names its own."""

    out = False

    @classmethod
    def route(cls) -> tuple[str, type[RequestHandler]]:
        cls.out = True
        return rf"/{AT}/(\w+\.js)", cls

    def get(self, asked: str) -> None:
        scripts = all_scripts()
        self.set_header("Content-Type", "text/javascript; charset=utf-8")
        if f"{AT}/{asked}" == scripts.address:  # else it is asked for by a page of before this server began
            self.set_header("Cache-Control", _KEPT)
        self.finish(scripts.text)


def joined(*scripts: Path) -> str:
    """Scripts as one, each after those it imports from."""
    lines = (line for script in scripts for line in script.read_text(encoding="utf-8").splitlines())
    return "\n".join(line for line in lines if not line.startswith("import "))
