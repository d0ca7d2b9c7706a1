"""What whoever runs the server is told of it, and strangers are not."""

from __future__ import annotations

import asyncio
import json
import os
import signal
import socket
import sys
import time
from urllib.request import urlopen

import pytest

from dashboard import cli
from dashboard.serving.operating import Counts
from dashboard.visit.network_address import own_address
from tests.records.small import tables, write_folder
from tests.serving import Served, free_port
from tests.serving.asking import asked
from tests.visitor import visit


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    records = write_folder(tmp_path_factory.mktemp("operating") / "records", tables())
    port = free_port()
    with Served(records, "--address", "0.0.0.0", "--metrics", str(port), "--log", "json") as running:
        running.metrics = port
        yield running


def counted(server: Served) -> dict[str, float]:
    with urlopen(f"http://127.0.0.1:{server.metrics}/metrics", timeout=30) as told:
        lines = told.read().decode().splitlines()
    return {name: float(value) for name, value in (line.rsplit(" ", 1) for line in lines if line[0] != "#")}


def events(server: Served) -> list[dict]:
    return [json.loads(line) for line in server.said().splitlines() if line.startswith("{")]


def test_a_visit_is_counted_and_logged_without_what_was_asked(server):
    before = counted(server)
    asyncio.run(visit(server.url, ("flesh_colour", ["white"]), query="?v=1&tab=season"))
    asked(server.port, "/nowhere?secret=1")
    refused = 'orchard_slate_answers_total{status="404"}'
    until = time.monotonic() + 20  # an answer is counted once it has gone out
    while (after := counted(server)).get(refused, 0) == before.get(refused, 0) and time.monotonic() < until:
        time.sleep(0.05)

    def more(name: str) -> float:
        return after.get(name, 0) - before.get(name, 0)

    assert more('orchard_slate_opening_seconds_count{page="page"}') == 1
    assert more('orchard_slate_opening_seconds_sum{page="page"}') > 0
    assert more("orchard_slate_change_seconds_count") >= 2  # that the page stands, and the tick
    assert more(refused) == 1
    told = [one for one in events(server) if "status" in one]
    assert "/nowhere answered with 404" in [
        one["message"] for one in told
    ]  # all that a log of plain text shows
    assert {(one["path"], one["status"], one["level"]) for one in told} >= {
        ("/", 200, "INFO"),
        ("/nowhere", 404, "WARNING"),
    }
    assert all(one["ms"] > 0 and one["time"].endswith("Z") and one["pid"] == server.pid for one in told)
    assert "secret" not in server.said()
    assert "season" not in server.said()


def test_a_fault_is_counted_by_who_logged_it(server):
    name = 'orchard_slate_faults_total{logger="bokeh"}'
    before = counted(server).get(name, 0)
    with pytest.raises(Exception):  # noqa: B017, PT011
        asyncio.run(visit_with_a_wrong_token(server))
    assert (
        counted(server).get(name, 0) + counted(server).get('orchard_slate_faults_total{logger="tornado"}', 0)
        > before
    )


async def visit_with_a_wrong_token(server: Served) -> None:
    from tornado.websocket import websocket_connect

    line = await websocket_connect(server.url.replace("http", "ws") + "ws", subprotocols=["bokeh", "nothing"])
    if await asyncio.wait_for(line.read_message(), 10) is None:
        raise ConnectionError("hung up on")


def test_strangers_are_not_told(server):
    network = own_address()
    if network:
        with socket.socket() as probe:
            probe.settimeout(5)
            assert probe.connect_ex((network, server.metrics)) != 0
    assert asked(server.port, "/metrics").status == 404


def test_what_cannot_be_had_is_told_in_one_sentence(capsys, monkeypatch):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        assert cli.main(["serve", "--metrics", str(taken.getsockname()[1])]) == 1
    assert capsys.readouterr().err.endswith("the port is taken or not allowed; choose another.\n")
    for module, options in (
        ("prometheus_client", ["--metrics", "5079"]),
        ("pythonjsonlogger.json", ["--log", "json"]),
    ):
        monkeypatch.setitem(sys.modules, module, None)
        assert cli.main(["serve", *options]) == 1
        said = capsys.readouterr().err
        assert said.count("\n") == 1
        assert ".[operate]" in said


def test_a_port_beyond_all_ports_is_told():
    with pytest.raises(ValueError, match="choose another"):
        Counts(70_000)


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no signal to stop a server in order")
def test_being_stopped_is_logged(tmp_path):
    with Served(write_folder(tmp_path / "records", tables()), "--log", "json") as server:
        os.kill(server.pid, signal.SIGTERM)
        assert server._process.wait(20) == 0
        assert [one["visitors"] for one in events(server) if one["message"] == "stopping"] == [0]
