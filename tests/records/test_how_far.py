"""A long reading is counted on a terminal, in one line that is gone at the end, and nowhere else."""

from __future__ import annotations

import io

import pytest

from dashboard.records import how_far
from dashboard.records.comma_files import read_csv
from dashboard.records.how_far import counted, on_terminal, tell
from dashboard.records.importing.pages import opened
from dashboard.records.store import swift, whole_columns
from dashboard.records.store.bringing import bring
from tests.records.small import tables, write_folder


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True

    def shown(self) -> str:
        """What stands in the last line, as a terminal writes over it."""
        line = ""
        for part in self.getvalue().split("\r"):
            line = part + line[len(part) :]
        return line.rstrip()


@pytest.fixture(autouse=True)
def at_once(monkeypatch):
    monkeypatch.setattr(how_far, "_PATIENCE_S", 0.0)
    monkeypatch.setattr(how_far, "_BETWEEN_S", 0.0)


def test_rows_are_counted_on_a_terminal_and_the_line_is_gone_at_the_end():
    terminal, seen = Terminal(), []
    with on_terminal(terminal):
        for row in counted(range(25_000), "fruit.csv", 24_000):
            if row in (9_999, 10_000, 20_000):
                seen.append(terminal.shown())
        assert terminal.shown() == ""
        tell("checking fruit.csv")
        seen.append(terminal.shown())
    assert seen == [
        "reading fruit.csv: 10,000 of about 24,000 rows",
        "reading fruit.csv: 10,000 of about 24,000 rows",
        "reading fruit.csv: 20,000 of about 24,000 rows",
        "checking fruit.csv",
    ]
    assert terminal.shown() == ""
    assert "\n" not in terminal.getvalue()


def test_more_rows_than_there_may_be_are_no_part_of_less():
    terminal, seen = Terminal(), []
    with on_terminal(terminal):
        for row in counted(range(10_001), "a.csv", 0):
            seen += [terminal.shown()] if row == 9_999 else []
    assert seen == ["reading a.csv: 10,000 of about 10,000 rows"]


def test_the_line_fits_into_a_narrow_terminal_and_a_name_cannot_move_the_cursor(monkeypatch):
    monkeypatch.setenv("COLUMNS", "20")
    terminal = Terminal()
    with on_terminal(terminal):
        tell("reading \x1b[2J.csv and much more")
        assert terminal.shown() == r"reading \x1b[2J.csv"


def test_what_is_done_soon_needs_no_line(monkeypatch):
    monkeypatch.setattr(how_far, "_PATIENCE_S", 60.0)
    terminal = Terminal()
    with on_terminal(terminal):
        assert len(list(counted(range(50_000), "a.csv", 50_000))) == 50_000
    assert terminal.getvalue() == ""


def test_nothing_is_written_into_a_file_or_a_pipe():
    stream = io.StringIO()
    rows = range(20_000)
    with on_terminal(stream):
        assert counted(rows, "a.csv", 20_000) is rows
        tell("checking")
    assert stream.getvalue() == ""


def test_the_line_goes_with_a_fault_too():
    terminal = Terminal()

    def broken():
        tell("checking fruit.csv")
        raise ValueError("broken")

    with pytest.raises(ValueError, match="broken"), on_terminal(terminal):
        broken()
    assert terminal.shown() == ""


@pytest.mark.parametrize("quote", ["", '"'])
def test_both_readers_of_text_count_their_rows(tmp_path, quote):
    """Also where a quotation mark that is not closed has them begin anew."""
    path = tmp_path / "fruit.csv"
    path.write_text("sample,fruit\n" + "S1,1\n" * 10_500 + f"{quote}S2,1\n")
    for read in (lambda: read_csv(path, "fruit"), lambda: opened([path], {})):
        terminal = Terminal()
        with on_terminal(terminal):
            read()
        assert "reading fruit.csv: 10,000 of about 10,50" in terminal.getvalue()


def test_fruit_checked_as_whole_columns_are_counted_too(monkeypatch):
    monkeypatch.setattr(whole_columns, "PIECE", 1)
    terminal = Terminal()
    with on_terminal(terminal):
        assert swift.plain(b"sample,fruit\nS1,1\nS1,2\nS2,1\nS2,2\n", "fruit.csv") is not None
    assert "reading fruit.csv: 3 of about 4 rows" in terminal.getvalue()
    assert terminal.shown() == ""


def test_a_table_is_told_while_it_is_checked_for_a_store(tmp_path):
    terminal = Terminal()
    with on_terminal(terminal):
        bring(tmp_path / "a.store", write_folder(tmp_path / "in", tables()), "Ada")
    assert "checking samples.csv: " in terminal.getvalue()
    assert terminal.shown() == ""
