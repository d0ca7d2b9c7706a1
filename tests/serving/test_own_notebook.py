"""A notebook of one's own is served: its tabs stand on the page, and what goes wrong in a cell is told with its line."""

from __future__ import annotations

import asyncio
import json
from pathlib import Path

import pytest

from dashboard import cli
from dashboard.places import notebooks
from dashboard.serving import own_notebook
from dashboard.serving.own_notebook import OwnNotebook, sources
from tests.records.small import tables, write_folder
from tests.serving.served import Served
from tests.visitor import Visitor


def written(place: Path, *cells: str) -> Path:
    """A notebook of code cells."""
    made = [
        {"cell_type": "code", "id": f"c{at}", "metadata": {}, "outputs": [], "execution_count": None, "source": cell.splitlines(True)}
        for at, cell in enumerate(cells)
    ]  # fmt: skip
    place.write_text(json.dumps({"cells": made, "metadata": {}, "nbformat": 4, "nbformat_minor": 5}), "utf-8")
    return place


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (None, "cannot be read"), (b"", "no notebook"), (b"{}", "no notebook"), (b"\xff\xfe", "no notebook"), (b"[1]", "no notebook"), (b'{"cells": 3}', "no notebook"),
        (b'{"cells": [{"cell_type": "code"}]}', "no notebook"), (b"[" * 100_000, "no notebook"), (b'{"cells": []}', "no cell with code"),
        (b'{"cells": [{"cell_type": "code", "source": " "}]}', "no cell with code"),
    ],
    ids=range(10),
)  # fmt: skip
def test_what_is_no_notebook_is_told_in_one_sentence(tmp_path, capsys, content: bytes | None, told: str):
    place = tmp_path / "my.ipynb"
    if content is not None:
        place.write_bytes(content)
    assert cli.main(["serve", "--notebook", str(place)]) == 1
    said = capsys.readouterr().err.strip()
    assert told in said
    assert "\n" not in said


def test_another_kind_of_file_or_a_huge_one_is_not_read(tmp_path, monkeypatch):
    with pytest.raises(ValueError, match=r"ends in \.ipynb"):
        sources(tmp_path / "my.py")
    monkeypatch.setattr(own_notebook, "LARGEST", 10)
    with pytest.raises(ValueError, match="clear its outputs"):
        sources(written(tmp_path / "my.ipynb", "x = 1"))


def test_lines_that_only_jupyter_knows_are_left_out_and_others_keep_their_numbers(tmp_path):
    cells = OwnNotebook(
        written(
            tmp_path / "my.ipynb",
            "%matplotlib inline\n!ls\nx?\ny = (",
            "%%html\n<b>",
            "if True:\n    %time\n",
        )
    ).cells
    assert cells[0].fault.startswith("my.ipynb, cell 1, line 4 (y = (): SyntaxError")
    assert not cells[1].fault
    assert not cells[2].fault


def test_the_starting_notebook_is_the_one_that_comes_along_and_takes_no_file_away(tmp_path, capsys):
    place = tmp_path / "mine.ipynb"
    assert cli.main(["notebook", str(place)]) == 0
    assert "serve --notebook" in capsys.readouterr().out
    assert place.read_bytes() == (notebooks() / "own_page.ipynb").read_bytes()
    assert cli.main(["notebook", str(place)]) == 1
    assert "left as it is" in capsys.readouterr().err
    assert cli.main(["notebook", str(tmp_path / "mine.py")]) == 1
    assert "mine.ipynb" in capsys.readouterr().err


def test_it_is_served_with_its_tab_and_its_faults(tmp_path):
    """One server for all: a cell that fails, one that is no Python, a page with a tab that fails, and the usual page beside it."""
    notebook = written(
        tmp_path / "my.ipynb",
        "from dashboard import load, show\nrecords = load()",
        "x = 1\nwrong = nowhere",
        "y = (",
        "def broken_tab(ask):\n    return 1 / 0",
        "show(records, tabs=[broken_tab, 'season']).servable()",
        "late = 1 / 0",
    )
    with Served(write_folder(tmp_path / "records", tables()), "--notebook", str(notebook)) as server:
        own = json.dumps(asyncio.run(opened(server.url)))
        with server.opened("/page") as usual:
            assert usual.status == 200
    assert "my.ipynb, cell 2, line 2 (wrong = nowhere): NameError" in own
    assert "my.ipynb, cell 3, line 1 (y = (): SyntaxError" in own
    assert "my.ipynb, cell 4, line 2 (return 1 / 0): ZeroDivisionError" in own
    assert "my.ipynb, cell 6, line 1 (late = 1 / 0): ZeroDivisionError" in own
    assert '["Broken tab", "Season"]' in own
    assert "Small trial" in own  # the folder that the server was started with


async def opened(url: str) -> object:
    visitor = Visitor(url)
    await visitor.open()
    visitor.leave()
    return [visitor.document, visitor.heard]
