"""Sheets by the pages: dropped, asked about, looked at, kept, taken back; and what goes wrong on the way."""

from __future__ import annotations

import json
import multiprocessing
import threading
import time
from urllib.parse import quote

import pytest

from dashboard.records import read
from dashboard.records.store.opening import StoreError
from dashboard.records.trays import tray as trays
from dashboard.records.trays.keeping import ALREADY
from dashboard.records.workbooks import read_grids
from dashboard.serving.bringing import asking, work
from tests.records.importing.test_bench import FIGURES, bench, five
from tests.records.trays.test_trays import ROWS, WEEK, brought
from tests.serving.bringing.endless import endless
from tests.serving.bringing.visitor import PATIENCE, SECRET, Visitor

HOW = {
    "number is the month": "day/month", "“n/a” stands": "nothing", "in which unit": "mm", "Sut, column": "suture", "Variety, column": "cultivar",
    "Fruit, column": "fruit number", "Brix, column": "ssc",
}  # fmt: skip


def answered(visitor: Visitor, address: str) -> str:
    page = visitor.rest(address)
    for _ in range(8):
        if "<fieldset" not in page:
            return page
        page = visitor.answer(address, page, HOW)
    raise AssertionError(page)


def test_a_sheet_is_asked_about_kept_seen_and_taken_back(room, ann):
    came: list[int] = []
    seen = threading.Event()
    room.anew = lambda: (came.append(len(read(room.desk.place).tables["fruit"])), seen.set())  # type: ignore[assignment,func-returns-value]
    address = ann.bring("week 27.csv", (WEEK + ROWS).encode())
    page = ann.rest(address)
    assert "What your sheets do not say" in page
    assert "day/month: 2024-07-03" in page
    assert "checked" not in page.split("which number is the month")[1].split("</fieldset>")[0]
    assert "to answer, brought by Ann" in ann.ask("/records")[1]  # found again, whoever closed the page
    page = answered(ann, address)
    assert "What would come in" in page
    assert "2 rows of fruit" in page
    assert "<b>21</b>read" in page
    assert len(read(room.desk.place).tables["fruit"]) == 12
    assert ann.post(f"{address}/keep")[0] == 303
    page = ann.rest(address)
    assert "Kept, as import 1." in page
    assert seen.wait(10)
    assert came == [14]
    home = ann.ask("/records")[1]
    assert "week 27.csv" in home
    assert ">Take back<" in home
    status, text = ann.post("/records/undo?number=1")
    assert status == 200
    assert "Import 1 is taken back" in text
    assert len(read(room.desk.place).tables["fruit"]) == 12
    assert ann.post("/records/undo?number=1")[0] == 409


def test_a_form_from_before_answers_nothing(room, ann):
    address = ann.bring("week 27.csv", (WEEK + ROWS).encode())
    page = ann.rest(address)
    field = asking.field_of(trays.tray(room.desk, address[-16:]).found["questions"][0]["path"])
    ann.post(f"{address}/answers", {"turn": "0", field: "month/day"})
    assert "Somebody answered here meanwhile" in ann.rest(address)
    assert "Somebody answered" not in page


def test_what_is_left_is_gone_and_nothing_came_in(room, ann):
    address = ann.bring("week 27.csv", (WEEK + ROWS).encode())
    ann.rest(address)
    assert ann.post(f"{address}/leave")[0] == 303
    status, text = ann.ask(address)
    assert status == 404
    assert "not here any more" in text
    assert list(room.desk.trays.iterdir()) == []


def test_hostile_names_and_cells_stay_text(room, ann):
    evil = "<img src=x onerror=alert(1)>"
    text = (WEEK + ROWS).replace("Variety", f'"{evil}"').replace("Alvane", f'"{evil}"')
    address = ann.bring(f"{evil}.csv", text.encode())
    page, seen = ann.rest(address), ""
    while "<fieldset" in page:
        seen += page
        page = ann.answer(address, page, {**HOW, f"{evil}, column": "cultivar", f"“{evil}”": evil})
    seen += page + ann.ask("/records")[1]
    assert "What would come in" in page
    assert "<img" not in seen
    assert "&lt;img" in seen
    ann.log_in(SECRET, who=f"{evil}")
    assert "<img" not in ann.ask("/records")[1]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("book.xlsx", b"PK\x03\x04" + b"\0" * 200),
        ("old.xlsx", b"\xd0\xcf\x11\xe0" + b"\0" * 600),
        ("empty.csv", b""),
        ("binary.csv", bytes(range(256)) * 20),
        ("picture.csv", b"\x89PNG\r\n\x1a\n" + b"\0" * 100),
    ],
)
def test_a_broken_file_is_told_and_does_no_harm(room, ann, name, content):
    page = ann.rest(ann.bring(name, content))
    assert name in page
    assert 'role="alert"' in page
    assert "Traceback" not in page
    assert ann.ask("/records")[0] == 200
    assert len(read(room.desk.place).tables["fruit"]) == 12


def test_what_is_too_large_or_no_sheet_is_refused_before_it_is_sent(room, ann):
    tray = json.loads(ann.post("/records/trays")[1])["tray"]
    files = f"/records/trays/{tray}/files"
    status, text = ann.post(f"{files}?name=week.exe", b"x")
    assert status == 409
    assert "save the sheet as .xlsx or as CSV" in json.loads(text)["said"]
    status, text = ann.post(f"{files}?name=a.csv", b"", Content_Length="300000000")
    assert status == 413
    assert "split it by season" in json.loads(text)["said"]
    assert list((room.desk.trays / tray / "files").iterdir()) == []
    assert ann.post("/records/login", b"", Content_Length="300000")[0] == 400  # no other address takes much


def test_a_file_that_breaks_off_on_the_way_leaves_nothing(room, ann):
    import socket

    tray = json.loads(ann.post("/records/trays")[1])["tray"]
    with socket.create_connection(("127.0.0.1", ann.port)) as line:
        head = f"POST /records/trays/{tray}/files?name=a.csv HTTP/1.1\r\nHost: localhost:{ann.port}\r\nOrigin: http://localhost:{ann.port}\r\nCookie: {ann.cookie}\r\nContent-Length: 900000\r\n\r\n"
        line.sendall(head.encode() + b"x" * 1000)
        time.sleep(0.1)
    files, until = room.desk.trays / tray / "files", time.monotonic() + 10
    while list(files.iterdir()) and time.monotonic() < until:
        time.sleep(0.02)
    assert list(files.iterdir()) == []
    assert trays.tray(room.desk, tray).files == {}


def test_reading_that_breaks_off_is_told_and_can_be_tried_again(room, ann, monkeypatch):
    def broken(*_):
        raise RuntimeError("no memory")

    monkeypatch.setattr("dashboard.serving.bringing.work.look", broken)
    address = ann.bring("week 27.csv", (WEEK + ROWS).encode())
    page = ann.rest(address)
    assert "Reading broke off" in page
    assert "no memory" not in page
    monkeypatch.undo()
    ann.post(f"{address}/read")
    assert "What your sheets do not say" in ann.rest(address)


@pytest.mark.slow
def test_reading_that_takes_too_long_is_ended_with_its_process_and_can_be_tried_again(room, ann, monkeypatch):
    monkeypatch.setattr(work, "look", endless)
    monkeypatch.setattr(work, "LEAST_S", 0.5)
    room.work.open()
    before = multiprocessing.active_children()  # of other tests
    address = ann.bring("week 27.csv", (WEEK + ROWS).encode())
    page = ann.rest(address)
    assert "Reading took longer than 1 minute and was stopped." in page
    assert multiprocessing.active_children() == before
    assert [path.read_bytes() for path in trays.tray(room.desk, address[-16:]).paths] == [
        (WEEK + ROWS).encode()
    ]
    assert work.longest(trays.tray(room.desk, address[-16:])) < 0.51
    monkeypatch.undo()
    ann.post(f"{address}/read")
    assert "What your sheets do not say" in ann.rest(address)


def test_what_was_set_aside_can_be_taken_along(room, ann):
    address = ann.bring("week 27.csv", (WEEK + ROWS.replace("62,61", "620,61")).encode())
    page = answered(ann, address)
    assert "Take what was set aside" in page
    assert "620" in page
    status, _ = ann.ask(f"{address}/set_aside.xlsx")
    assert status == 200
    assert ann.headers["Content-Disposition"] == 'attachment; filename="set_aside.xlsx"'
    ann.post(f"{address}/keep")
    ann.rest(address)
    assert ann.ask(f"{address}/set_aside.xlsx")[0] == 200


def test_after_a_restart_what_was_being_read_is_read(room, ann):
    """Nothing but the disk knows of the tray; asking for it begins anew."""
    which = brought(room.desk, WEEK + ROWS)
    assert "What your sheets do not say" in ann.rest(f"/records/trays/{which}")


def test_what_ends_while_its_page_is_made_is_not_read_again(room, ann, monkeypatch):
    """The tray as it stood before, and when the page goes on the reading has ended."""
    which, found = brought(room.desk, WEEK + ROWS), trays.tray

    def as_it_was(desk, name):
        seen = found(desk, name)
        until = time.monotonic() + PATIENCE
        while room.work.going(name) and time.monotonic() < until:
            time.sleep(0.01)
        return seen

    room.work.read(which)
    monkeypatch.setattr("dashboard.serving.bringing.pages.trays.tray", as_it_was)
    assert "What your sheets do not say" in ann.rest(f"/records/trays/{which}")
    assert found(room.desk, which).turn == 1


BENCH = "bench low 2024-07-03.csv"


def bench_day(tmp_path, *fives) -> bytes:
    """What the page sends: the sheet of the day as text."""
    book = bench(tmp_path / "week.xlsx", *fives)
    grid = read_grids(book)[0]["bench"]
    width = max(map(len, grid))
    lines = [",".join(f'"{cell}"' for cell in [*row, *[""] * (width - len(row))]) for row in grid]
    return ("\ufeff" + "\r\n".join(lines) + "\r\n").encode()


def sent(visitor: Visitor, day: bytes) -> tuple[int, dict]:
    status, text = visitor.post(f"/records/send?name={quote(BENCH)}", day)
    return status, json.loads(text)


def test_a_day_sent_from_the_bench_page_is_kept_and_twice_changes_nothing(room, ann, tmp_path):
    day = bench_day(tmp_path, five("Alvane", FIGURES, "2", red="7"), five("Brintel"))
    assert sent(ann, day) == (200, {"kept": True, "said": "Kept: 1 new sample, 10 new fruit."})
    assert len(read(room.desk.place).tables["fruit"]) == 22
    before = (room.desk.place / "fruit.csv").read_bytes()
    assert sent(ann, day) == (200, {"kept": True, "said": ALREADY})
    assert (room.desk.place / "fruit.csv").read_bytes() == before
    page = ann.ask("/records")[1]
    assert page.count(BENCH) == 1
    assert "Nothing waits." in page


def test_a_day_that_cannot_be_kept_is_not_said_to_be(room, ann, tmp_path, monkeypatch):
    day = bench_day(tmp_path, five("Alvane", FIGURES, "2"))
    assert sent(Visitor(ann.port), day)[0] == 401
    _, told = sent(ann, b"no sheet of a day")
    assert "kept" not in told or not told["kept"]
    monkeypatch.setattr(
        "dashboard.serving.bringing.work.keep",
        lambda *_: (_ for _ in ()).throw(StoreError("Somebody else is writing.")),
    )
    assert sent(ann, day) == (409, {"said": "Somebody else is writing."})
    assert ann.post("/records/send?name=a.csv", b"", Content_Length="9000000")[0] == 413
    assert len(read(room.desk.place).tables["fruit"]) == 12


def test_the_bench_page_is_handed_out_to_whoever_is_in(room, ann):
    room.sites = lambda: [("low", "Low <b>field</b>")]
    assert "Low &lt;b&gt;field" in ann.ask("/records")[1]
    assert 'name="password"' in Visitor(ann.port).ask("/records/bench?site=low")[1]
    status, text = ann.ask("/records/bench?site=low&date=2024-07-03")
    assert status == 200
    assert '"send":"/records/send"' in text
    assert "connect-src" in text
    assert ann.ask("/records/bench?site=nowhere")[0] == 400
    assert ann.ask("/records/bench?site=low&date=x")[0] == 400
