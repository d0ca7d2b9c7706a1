"""Put a server under load and print what came of it; see ``tests.load``."""

from __future__ import annotations

import argparse
import asyncio
import json
import os
import sys
import time
from contextlib import ExitStack
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.request import urlopen

from tornado.httpclient import AsyncHTTPClient

from tests.benchmarks.servers import Served, free_port
from tests.door.proxy import Proxy
from tests.load import told
from tests.load.guests import Noted
from tests.load.kinds import Load

MOST_SESSIONS = 1000
LONGEST = 900.0  # seconds
KINDS = ("steady", "arrivals", "churn", "burst", "soak")


def main() -> int:
    parser = _parser()
    options = parser.parse_args()
    if not 0 < options.sessions <= MOST_SESSIONS or not 0 < options.seconds < LONGEST:
        parser.error(f"at most {MOST_SESSIONS} sessions and {LONGEST:.0f} seconds")
    with ExitStack() as running:
        servers = [running.enter_context(_server(free_port())) for _ in range(options.processes)]
        url = servers[0].url
        if len(servers) > 1:
            folder = Path(running.enter_context(TemporaryDirectory()))
            url = f"http://localhost:{running.enter_context(Proxy(folder, [one.port for one in servers])).port}/"
        asyncio.run(asyncio.wait_for(_run(options, url, servers), LONGEST))
    return 0


def _server(port: int) -> Served:
    return Served(sys.executable, "-m", "tests.load.watched", str(port), "--warm", port=port)


async def _run(options: argparse.Namespace, url: str, servers: list[Served]) -> None:
    AsyncHTTPClient.configure(None, max_clients=MOST_SESSIONS, max_body_size=2**28)
    await asyncio.sleep(3)  # what a start leaves to be done is not counted
    before = [await _watched(server) for server in servers]
    since, spent = time.perf_counter(), time.process_time()
    print(f"{told.HEAD}\n|{'---|' * told.HEAD.count(' | ')}---|", flush=True)

    async def phase(name: str, noted: Noted) -> None:
        nonlocal before, since, spent
        after = [await _watched(server) for server in servers]
        wall = time.perf_counter() - since
        fared = [told.server(*both, wall) for both in zip(before, after, strict=True)]
        client = (time.process_time() - spent) / wall
        print(told.line(name, noted, fared, client, os.getloadavg()[0]), flush=True)
        print(f"  limits: {told.limit(noted, fared)}", file=sys.stderr)
        for fault in dict.fromkeys(noted.faults):
            print(f"  {noted.faults.count(fault)} × {fault}", file=sys.stderr)
        before, since, spent = after, time.perf_counter(), time.process_time()

    newcomers = options.files or options.kind in ("arrivals", "burst")
    load = Load(url, phase, options.equal, newcomers)
    if options.kind == "steady":
        await load.steady(options.sessions, options.seconds)
    else:
        await getattr(load, options.kind)()


async def _watched(server: Served) -> dict[str, Any]:
    def asked() -> dict[str, Any]:
        with urlopen(server.url + "watched", timeout=60) as answer:
            return json.load(answer)

    return await asyncio.to_thread(asked)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.load", description="put a server under load")
    parser.add_argument("kind", choices=KINDS)
    parser.add_argument("sessions", nargs="?", type=int, default=200, help="of steady")
    parser.add_argument("--seconds", type=float, default=60, help="of steady")
    parser.add_argument("--equal", action="store_true", help="everybody asks the same")
    parser.add_argument("--files", action="store_true", help="everybody fetches the scripts too")
    parser.add_argument(
        "--processes",
        type=int,
        choices=(1, 2),
        default=1,
        help="two stand behind nginx, as docs/deploy.md says",
    )
    return parser


if __name__ == "__main__":
    sys.exit(main())
