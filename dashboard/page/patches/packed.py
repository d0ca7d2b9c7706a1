"""Scripts and styles are compressed once, not anew for every visitor.

Seen on: tornado 6.5.
Mends: Tornado compresses what it hands out for each request anew, on the loop that answers everybody.
Upstream: docs/upstream.md, "Files compressed once".
"""

from __future__ import annotations

import gzip
import os
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

import bokeh
import panel as pn
import panel_material_ui
from tornado.web import StaticFileHandler

TEXT = (".js", ".css", ".svg", ".json", ".map")
LEAST = 1024  # bytes; below, a header costs more than is won
MOST = 8_000_000  # bytes of one file


def pack_once() -> None:
    """From now on files are handed out compressed as they were the first time, to whoever takes that."""
    StaticFileHandler.set_extra_headers = _packed_if_taken  # type: ignore[method-assign,assignment]


def pack(files: Iterable[Path]) -> None:
    """Compress these now, so that no visitor waits for it; safe beside the event loop, in a thread."""
    for file in files:
        told = file.stat()
        if file.suffix in TEXT and LEAST <= told.st_size <= MOST:
            _packed(str(file), told.st_mtime_ns, told.st_size)


def scripts() -> list[Path]:
    """The large files every page names."""
    named = {
        Path(bokeh.__file__).parent / "server" / "static" / "js": "*.min.js",
        Path(pn.__file__).parent / "dist": "panel.min.js",
        Path(panel_material_ui.__file__).parent / "dist": "*.bundle.*s",
    }
    return [file for folder, names in named.items() for file in sorted(folder.glob(names))]


def _packed_if_taken(handler: StaticFileHandler, _path: str) -> None:
    """The place where the library lets headers be added: the file's own are set, its content is not read yet."""
    file, asked = str(handler.absolute_path), handler.request.headers
    if "gzip" not in asked.get("Accept-Encoding", "") or "Range" in asked or not file.endswith(TEXT):
        return
    told = os.stat(file)
    if not LEAST <= told.st_size <= MOST:
        return
    body = _packed(file, told.st_mtime_ns, told.st_size)
    handler.set_header("Content-Encoding", "gzip")
    vars(handler)["get_content"] = lambda _path, _start=None, _end=None: body
    vars(handler)["get_content_size"] = lambda: len(body)


@lru_cache(maxsize=256)
def _packed(file: str, _changed: int, _size: int) -> bytes:
    return gzip.compress(Path(file).read_bytes(), compresslevel=6, mtime=0)
