"""The servers of the peers: each a process of its own, its CPU time told by the system."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import psutil

ROOT = Path(__file__).resolve().parents[2]
HERE = Path(__file__).resolve().parent


class Served:
    """A server in its own process; leave the ``with`` block and it is gone."""

    def __init__(self, *command: str, port: int, path: str = "/"):
        self.url = f"http://localhost:{port}{path}"
        self.port = port
        self._command = command

    def __enter__(self) -> Served:
        environment = {
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "OPENBLAS_NUM_THREADS": "1",
            "OMP_NUM_THREADS": "1",
        }
        self._log = tempfile.TemporaryFile()
        self._process = subprocess.Popen(
            self._command, cwd=ROOT, env=environment, stdout=self._log, stderr=self._log
        )
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

    def cpu_ms(self) -> float:
        """CPU time used so far by the process and those it has started, in steps of 10 ms."""
        own = psutil.Process(self._process.pid)
        spent = [process.cpu_times() for process in (own, *own.children(recursive=True))]
        return 1000 * sum(times.user + times.system for times in spent)

    def said(self) -> str:
        self._log.seek(0)
        return self._log.read().decode(errors="replace")

    def signal(self, number: int) -> None:
        self._process.send_signal(number)

    def ended(self, seconds: float) -> int:
        """What it ended with."""
        return self._process.wait(seconds)

    def memory_mb(self) -> float:
        return psutil.Process(self._process.pid).memory_info().rss / 1e6

    def _await(self, seconds: float = 90) -> None:
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            if self._process.poll() is not None:
                raise RuntimeError(f"{' '.join(self._command)} ended: {self.said()[-1500:]}")
            with socket.socket() as probe:
                probe.settimeout(1)
                if probe.connect_ex(("localhost", self.port)) == 0:
                    return
            time.sleep(0.1)
        raise RuntimeError(f"{' '.join(self._command)} did not answer in {seconds:.0f} s")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("localhost", 0))
        return probe.getsockname()[1]


def our_page(cultivars: int, *further: str, path: str = "/") -> Served:
    port = free_port()
    return Served(
        sys.executable, "-m", "tests.benchmarks.serve_page", str(port), str(cultivars), *further, port=port, path=path
    )  # fmt: skip


def empty_page() -> Served:
    port = free_port()
    return Served(sys.executable, "-m", "tests.benchmarks.serve_empty", str(port), port=port)


def files(folder: Path, path: str = "/") -> Served:
    port = free_port()
    return Served(
        sys.executable, "-m", "http.server", str(port), "--bind", "localhost", "--directory", str(folder), port=port, path=path
    )  # fmt: skip


def streamlit_page(python: str, rows: Path) -> Served:
    port = free_port()
    return Served(
        python, "-m", "streamlit", "run", str(HERE / "streamlit_peer.py"), "--server.headless", "true", "--server.port", str(port),
        "--server.fileWatcherType", "none", "--browser.gatherUsageStats", "false", "--client.toolbarMode", "minimal",
        "--", str(rows), port=port,
    )  # fmt: skip


def has_streamlit(python: str) -> bool:
    return (
        subprocess.run([python, "-c", "import streamlit"], capture_output=True, check=False).returncode == 0
    )
