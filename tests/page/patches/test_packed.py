"""A script is compressed once, for all who take it compressed, and anew when it has changed."""

from __future__ import annotations

import gzip
import os

import pytest
from tornado.httpclient import AsyncHTTPClient, HTTPRequest
from tornado.httpserver import HTTPServer
from tornado.testing import bind_unused_port
from tornado.web import Application, StaticFileHandler

from dashboard.page.patches import packed

SCRIPT = b"// what every page fetches\n" * 400


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setattr(StaticFileHandler, "set_extra_headers", StaticFileHandler.set_extra_headers)
    packed._packed.cache_clear()
    packed.pack_once()
    (tmp_path / "page.js").write_bytes(SCRIPT)
    (tmp_path / "small.js").write_bytes(b"1")
    (tmp_path / "picture.png").write_bytes(SCRIPT)
    return tmp_path


def answers(folder, *asked: dict, compressing: bool = False):
    """What a real server says to requests (path and headers), one after another."""
    import asyncio

    async def scene():
        server = HTTPServer(
            Application([("/(.*)", StaticFileHandler, {"path": str(folder)})], compress_response=compressing)
        )
        socket, port = bind_unused_port()
        server.add_socket(socket)
        told = []
        for one in asked:
            request = HTTPRequest(
                f"http://127.0.0.1:{port}/{one['path']}",
                headers=one.get("headers", {}),
                method=one.get("method", "GET"),
                decompress_response=False,
            )
            told.append(await AsyncHTTPClient(force_instance=True).fetch(request, raise_error=False))
        server.stop()
        await server.close_all_connections()
        return told

    return asyncio.run(scene())


GZIP = {"Accept-Encoding": "gzip"}


@pytest.mark.parametrize("compressing", [False, True])
def test_it_is_compressed_once_however_many_ask(folder, monkeypatch, compressing):
    compressed = []
    plain = gzip.compress
    monkeypatch.setattr(
        packed.gzip, "compress", lambda data, **how: compressed.append(1) or plain(data, **how)
    )
    told = answers(folder, *[{"path": "page.js", "headers": GZIP}] * 3, compressing=compressing)
    for one in told:
        assert one.headers["Content-Encoding"] == "gzip"
        assert one.headers.get("Vary") == ("Accept-Encoding" if compressing else None)
        assert int(one.headers["Content-Length"]) == len(one.body) < len(SCRIPT)
        assert gzip.decompress(one.body) == SCRIPT
    assert len(compressed) == 1


def test_what_was_packed_before_anybody_asked_is_not_packed_again(folder, monkeypatch):
    packed.pack(folder.iterdir())
    monkeypatch.setattr(packed.gzip, "compress", None)
    (told,) = answers(folder, {"path": "page.js", "headers": GZIP})
    assert gzip.decompress(told.body) == SCRIPT


def test_who_does_not_take_it_compressed_gets_it_as_it_is(folder):
    (told,) = answers(folder, {"path": "page.js"})
    assert told.body == SCRIPT
    assert "Content-Encoding" not in told.headers


def test_a_part_of_a_file_is_a_part_of_the_file(folder):
    (told,) = answers(folder, {"path": "page.js", "headers": {**GZIP, "Range": "bytes=3-6"}})
    assert told.code == 206
    assert told.body == SCRIPT[3:7]


@pytest.mark.parametrize("path", ["small.js", "picture.png"])
def test_what_gains_nothing_is_left_as_it_is(folder, path):
    (told,) = answers(folder, {"path": path, "headers": GZIP})
    assert "Content-Encoding" not in told.headers
    assert told.body == (folder / path).read_bytes()


def test_a_file_that_changed_is_packed_anew(folder):
    answers(folder, {"path": "page.js", "headers": GZIP})
    changed = SCRIPT + b"// more"
    (folder / "page.js").write_bytes(changed)
    os.utime(folder / "page.js", ns=(1, 1))
    (told,) = answers(folder, {"path": "page.js", "headers": GZIP})
    assert gzip.decompress(told.body) == changed


def test_who_has_it_already_is_told_so(folder):
    (first,) = answers(folder, {"path": "page.js", "headers": GZIP})
    (again,) = answers(
        folder, {"path": "page.js", "headers": {**GZIP, "If-None-Match": first.headers["Etag"]}}
    )
    assert again.code == 304
    assert again.body == b""


def test_the_scripts_that_pages_name_are_there():
    names = {script.name for script in packed.scripts()}
    assert {"bokeh.min.js", "panel.min.js", "panel-material-ui.bundle.js"} <= names
