"""The command ``orchard-slate serve`` in a process of its own, for tests that need a real server."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from dashboard.places import PACKAGE

LONGEST_START = 90.0  # seconds; a loaded machine reads the demo records slowly


class Served:
    """A running server; leave the ``with`` block and it is gone. ``said()`` is what it printed."""

    def __init__(self, source: Path, *options: str):
        self.source = source
        self._options = options

    def __enter__(self) -> Served:
        self.port = free_port()
        self.url = f"http://localhost:{self.port}/"
        self._log = tempfile.TemporaryFile()
        command = [sys.executable, "-m", "dashboard", "serve", str(self.source), "--port", str(self.port)]
        threads = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"), "1")
        self._process = subprocess.Popen(
            [*command, *self._options], cwd=PACKAGE.parent, env={**os.environ, **threads}, stdout=self._log, stderr=self._log
        )  # fmt: skip
        self.pid = self._process.pid
        try:
            self._await()
        except BaseException:
            self.__exit__()
            raise
        return self

    def __exit__(self, *_exception) -> None:
        self._process.terminate()
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        self._log.close()

    def said(self) -> str:
        self._log.seek(0)
        return self._log.read().decode(errors="replace")

    def opened(self, path: str):
        return urllib.request.urlopen(self.url.rstrip("/") + path, timeout=60)

    def _await(self) -> None:
        until = time.monotonic() + LONGEST_START
        while time.monotonic() < until:
            if self._process.poll() is not None:
                raise RuntimeError(f"the server on {self.source} ended: {self.said()[-1500:]}")
            with socket.socket() as probe:
                probe.settimeout(1)
                if probe.connect_ex(("localhost", self.port)) == 0:
                    return
            time.sleep(0.1)
        raise RuntimeError(
            f"the server on {self.source} did not answer in {LONGEST_START:.0f} s: {self.said()[-1500:]}"
        )


def orchard_slate(source: Path, *options: str) -> Served:
    return Served(source, *options)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("localhost", 0))
        return probe.getsockname()[1]
