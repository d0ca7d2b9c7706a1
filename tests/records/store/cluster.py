"""A PostgreSQL of the tests' own, in a folder that is removed afterwards; no server that runs already is touched."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
import time
from pathlib import Path

import psycopg
import pytest

from tests.serving import free_port

ABSENT = "PostgreSQL is not installed: apt-get install postgresql, or what your system calls it"
PATIENCE = 60.0


def program(name: str) -> str:
    """Its path. Where there is none the test is skipped, and fails where CI is set: there it has to be installed."""
    known = sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    found = shutil.which(name, path=os.pathsep.join([*map(str, known), os.environ.get("PATH", "")]))
    if found is None:
        (pytest.fail if os.environ.get("CI") else pytest.skip)(ABSENT)
    return found


class Cluster:
    """``new()`` gives the address of an empty database."""

    def __enter__(self) -> Cluster:
        initdb, postgres = program("initdb"), program("postgres")
        self.port, self._made = free_port(), 0
        self._folder = Path(tempfile.mkdtemp(prefix="orchard-slate-cluster-"))
        # PostgreSQL refuses to be run by the administrator.
        self._who = {"user": "postgres"} if os.name == "posix" and os.geteuid() == 0 else {}
        if self._who:
            shutil.chown(self._folder, "postgres")
        data, home = str(self._folder / "data"), {"cwd": self._folder, **self._who}
        made = [initdb, "-D", data, "-U", "slate", "-A", "trust", "-N", "-E", "UTF8", "--locale=C"]
        subprocess.run(made, check=True, capture_output=True, **home)
        command = [
            postgres,
            "-D",
            data,
            "-p",
            str(self.port),
            "-h",
            "127.0.0.1",
            "-k",
            str(self._folder),
            "-F",
        ]
        self._process = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **home
        )
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", self.port)) == 0 and self._answers():
                    return self
            time.sleep(0.05)
        self.__exit__()
        raise RuntimeError("PostgreSQL does not answer")

    def __exit__(self, *_fault) -> None:
        self._process.terminate()
        try:
            self._process.wait(20)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        shutil.rmtree(self._folder, ignore_errors=True)

    def new(self) -> str:
        self._made += 1
        name = f"trial_{self._made}"
        with psycopg.connect(self._address("postgres"), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}".encode())
        return f"postgresql+psycopg://slate@127.0.0.1:{self.port}/{name}"

    def _address(self, name: str) -> str:
        return f"postgresql://slate@127.0.0.1:{self.port}/{name}"

    def _answers(self) -> bool:
        try:
            psycopg.connect(self._address("postgres"), connect_timeout=5).close()
        except psycopg.OperationalError:
            return False
        return True
