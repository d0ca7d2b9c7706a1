"""nginx with the very file the documents hand out, in front of processes of this machine."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import time
from pathlib import Path

from dashboard.places import PACKAGE
from tests.door.asking import PATIENCE, Answer, asked
from tests.serving import free_port

SHIPPED = PACKAGE.parent / "docs" / "deploy" / "nginx.conf"
NAME = "trials.example"
CONNECTIONS = 4096  # at once: an open page takes two, one to the visitor and one to the process


class Proxy:
    """nginx with the shipped file, its ports replaced; ``log`` says which process answered."""

    def __init__(self, folder: Path, ports: list[int]):
        self.port = free_port()
        self.log = folder / "access.log"
        shipped = SHIPPED.read_text(encoding="utf-8")
        for written, port in zip(("5006", "5007"), ports, strict=True):
            shipped, replaced = re.subn(rf"127\.0\.0\.1:{written};", f"127.0.0.1:{port};", shipped)
            assert replaced == 1
        shipped, replaced = re.subn(r"listen 80;", f"listen 127.0.0.1:{self.port};", shipped)
        assert replaced == 1
        kept = "".join(
            f"{kind}_temp_path {folder / kind};\n"
            for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")
        )
        self._file = folder / "nginx.conf"
        self._file.write_text(
            ("user root;\n" if os.geteuid() == 0 else "")
            + f"daemon off;\npid {folder / 'pid'};\nerror_log {folder / 'error.log'};\nevents {{ worker_connections {CONNECTIONS}; }}\n"
            + f"http {{\nlog_format who '$upstream_addr $status';\naccess_log {self.log} who;\n{kept}{shipped}\n}}\n",
            encoding="utf-8",
        )

    def __enter__(self) -> Proxy:
        program = shutil.which("nginx", path=f"{os.environ.get('PATH', '')}:/usr/sbin")
        if program is None:
            raise FileNotFoundError(
                "nginx is not installed: apt-get install nginx, or what your system calls it"
            )
        self._process = subprocess.Popen([program, "-c", str(self._file)])
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", self.port)) == 0:
                    return self
            time.sleep(0.05)
        raise RuntimeError("nginx does not listen")

    def __exit__(self, *_fault) -> None:
        self._process.terminate()
        self._process.wait(10)

    def asked(self, path: str = "/", cookie: str = "") -> tuple[Answer, list[int]]:
        """The answer, and the ports of the processes that were asked, one after another."""
        lines = len(self.log.read_text().splitlines())
        answer = asked(self.port, path, host=NAME, **({"Cookie": cookie} if cookie else {}))
        until = time.monotonic() + PATIENCE
        while len(told := self.log.read_text().splitlines()) == lines and time.monotonic() < until:
            time.sleep(0.02)
        return answer, [int(port) for port in re.findall(r":(\d+)", told[-1])]
