"""Serves ``empty_shell.py`` with the options of the command: ``serve_empty.py PORT``."""

from __future__ import annotations

import sys
from pathlib import Path

import panel as pn

pn.serve(
    {"/": str(Path(__file__).with_name("empty_shell.py"))}, title="Empty", port=int(sys.argv[1]), address="localhost", show=False,
    compress_response=True, unused_session_lifetime=300_000, keep_alive_milliseconds=10_000, verbose=False,
)  # fmt: skip
