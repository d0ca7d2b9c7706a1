"""Files to take home are made by a process beside the server; without one within it; and what cannot be made is one sentence."""

from __future__ import annotations

import logging
import os
import re
import signal
import subprocess
import sys
import time
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import psutil
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.handout import booklet, tables
from dashboard.page.parts import making
from dashboard.page.parts import workshop as workshops
from dashboard.page.parts.making import FILES, MakingError, made, ordered
from dashboard.slate import publishing
from tests.handout.reading import pages
from tests.records.small import row, write_folder
from tests.records.small import tables as small

CSV, PDF = "orchard-slate-shortlist.csv", "orchard-slate-handout.pdf"


@pytest.fixture(scope="module")
def asked(tmp_path_factory) -> Question:
    folder = write_folder(tmp_path_factory.mktemp("making") / "records", small())
    return Question(
        catalogues.load(folder), market="roadside_stand", shortlist=("Alvane", "Brintel"), units="si"
    )


@pytest.fixture(scope="module")
def workshop():
    making.open_workshop()
    yield making._WORKSHOP
    making.close_workshop()


@pytest.fixture
def elsewhere(workshop, monkeypatch):
    """Nothing can be made within this process."""
    monkeypatch.setattr(making, "FILES", {})


def test_another_process_makes_what_this_one_would(asked, elsewhere):
    assert made(asked, CSV) == tables.csv(asked, "shortlist")
    assert [page[:60] for page in pages(made(asked, PDF))] == [
        page[:60] for page in pages(booklet.pdf(asked))
    ]


def test_a_second_file_is_made_by_the_same_process(asked, workshop):
    made(asked, CSV)
    before = psutil.Process().children()
    made(asked, PDF)
    assert psutil.Process().children() == before


def test_of_records_that_have_changed_the_file_is_made_from_those_the_page_shows(tmp_path, workshop, caplog):
    grids = small()
    folder = write_folder(tmp_path / "records", grids)
    known = catalogues.load(folder)
    row(grids["cultivars"], 2)[2] = "white"
    write_folder(folder, grids)
    asked = Question(known, shortlist=("Alvane",))
    assert made(asked, CSV) == tables.csv(asked, "shortlist")
    assert b"yellow" in made(asked, CSV)


def test_of_a_market_that_has_changed_too(asked, workshop):
    """The page's profile was read when the server was started; its file has since been written anew."""
    markets = asked.catalogue.markets
    known = replace(
        asked.catalogue, markets={**markets, asked.market: replace(markets[asked.market], name="As it was")}
    )
    shown = replace(asked, catalogue=known)
    assert b"As it was" in made(shown, CSV)


def test_where_no_process_can_be_started_it_is_made_within_and_said_in_the_log_once(
    asked, monkeypatch, caplog
):
    alone = making.Workshop("files are made")
    monkeypatch.setattr(making, "_WORKSHOP", alone)
    asked_for = []

    def refused(_nice):
        asked_for.append(1)
        raise PermissionError("no more processes")

    monkeypatch.setattr(workshops, "started", refused)
    alone.open()
    with caplog.at_level(logging.WARNING):
        for _ in range(2):
            assert made(asked, CSV) == tables.csv(asked, "shortlist")
    assert [record.message for record in caplog.records] == [
        "no process can be started (no more processes): files are made within the server, which answers more slowly meanwhile"
    ]
    assert asked_for == [1]


def test_until_a_server_is_started_there_is_no_process(asked, monkeypatch):
    monkeypatch.setattr(making, "_WORKSHOP", making.Workshop("files are made"))
    monkeypatch.setattr(workshops, "started", lambda _nice: pytest.fail("a process was started"))
    assert made(asked, CSV) == tables.csv(asked, "shortlist")


def test_a_process_that_is_ended_is_told_in_one_sentence_and_the_next_file_finds_a_new_one(
    asked, elsewhere, caplog
):
    made(asked, CSV)
    for child in psutil.Process().children(recursive=True):
        if "spawn_main" in " ".join(child.cmdline()):
            child.kill()
            child.wait(10)
    time.sleep(0.5)  # until the pool has seen it
    with pytest.raises(MakingError) as told:
        made(asked, CSV)
    assert str(told.value) == making.FAILED
    assert made(asked, CSV) == tables.csv(asked, "shortlist")


def test_a_fault_while_making_is_one_sentence_and_the_log_says_which(asked, monkeypatch, caplog):
    monkeypatch.setattr(making, "_WORKSHOP", making.Workshop("files are made"))
    monkeypatch.setattr(making, "FILES", {PDF: lambda _asked: 1 / 0})
    with pytest.raises(MakingError, match="could not be made"):
        made(asked, PDF)
    assert "division by zero" in caplog.text


@pytest.mark.parametrize("file", [PDF, "orchard-slate-ranking.csv"])
def test_more_cultivars_than_a_file_holds_are_refused_before_anything_is_made(catalogue, monkeypatch, file):
    monkeypatch.setattr(making, "MOST", {"pdf": 2, "csv": 10, "xlsx": 10})
    monkeypatch.setattr(making, "FILES", {})
    asked = Question(catalogue, shortlist=tuple(map(str, catalogue.cultivars.index[:3])))
    told = {
        PDF: "3 cultivars are on my slate, and this file holds at most 2; choose fewer.",
        "orchard-slate-ranking.csv": f"{len(asked.ranking)} cultivars pass your filters, and this file holds at most 10; choose fewer.",
    }
    with pytest.raises(MakingError) as fault:
        made(asked, file)
    assert str(fault.value) == told[file]


def test_every_kind_of_file_is_bounded():
    assert set(making.MOST) == {file.rpartition(".")[2] for file in FILES}


def test_only_so_many_files_wait_and_a_place_is_free_again_when_one_is_made(asked, monkeypatch):
    monkeypatch.setattr(making, "_WORKSHOP", making.Workshop("files are made"))
    waiting = [ordered(asked, CSV) for _ in range(making.MOST_WAITING)]
    with pytest.raises(MakingError, match="Many files are being made just now; try again in a minute"):
        ordered(asked, CSV)
    waiting.pop()()
    waiting.append(ordered(asked, CSV))
    for make in waiting:
        make()


SERVER = """
import os, signal, sys
import psutil
from dashboard.answers.catalogue import load
from dashboard.answers.question import Question
from dashboard.page.parts import making
from dashboard.page.parts import workshop as workshops

if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.default_int_handler)  # what runs in the background of a shell is begun deaf to it
    making.open_workshop()
    making.made(Question(load(sys.argv[1]), shortlist=("Alvane",)), "orchard-slate-shortlist.csv")
    (pid,) = [child.pid for child in psutil.Process().children(recursive=True) if "spawn_main" in " ".join(child.cmdline())]
    print(pid, flush=True)
    os.kill(os.getpid(), signal.SIGKILL if sys.argv[2] == "killed" else signal.SIGINT)
"""


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="signals are others there")
@pytest.mark.parametrize("how", ["killed", "stopped"])
def test_the_process_ends_with_the_server_however_that_ends(asked, tmp_path, how):
    script = tmp_path / "server.py"
    script.write_text(SERVER)
    here = {**os.environ, "PYTHONPATH": str(Path(making.__file__).parents[3])}
    ended = subprocess.run(
        [sys.executable, str(script), asked.catalogue.source, how], env=here, capture_output=True, text=True
    )
    assert ended.returncode in (-signal.SIGKILL, -signal.SIGINT, 1), ended.stderr
    pid = int(ended.stdout)
    until = time.monotonic() + 20
    with suppress(psutil.NoSuchProcess):  # it may end between two looks
        while psutil.Process(pid).status() != psutil.STATUS_ZOMBIE:
            assert time.monotonic() < until, "the process is still there"
            time.sleep(0.1)


@pytest.mark.slow
def test_the_page_for_mail_is_the_published_slate_whatever_the_filters(asked):
    page = made(replace(asked, fruit_type=("nectarine",), shortlist=()), "orchard-slate-page.html").decode()
    whole = publishing.html(asked).decode()
    data = [
        re.search(r'<script type="application/json" id="known".*?</script>', one, re.DOTALL)[0]
        for one in (page, whole)
    ]
    assert data[0] == data[1]  # the pictures' own numbers are dealt anew each time
    assert all(name in page for name in asked.catalogue.cultivars.index)


def test_the_page_for_mail_is_made_for_a_buyer(asked):
    with pytest.raises(MakingError, match="choose who you sell to first"):
        made(replace(asked, market=""), "orchard-slate-page.html")
