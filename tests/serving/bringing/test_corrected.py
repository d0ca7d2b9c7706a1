"""What was corrected: asked about in the look at a lot of files, and on the bench page by which it was sent before."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import urlencode

import pytest

from dashboard.records import read
from dashboard.records.importing.changed import changes_in
from dashboard.records.importing.right import KEEP, RIGHT, SINGLY
from dashboard.records.trays import sent
from dashboard.serving.bringing.room import Room
from tests.records.importing.test_bench import FIGURES, five
from tests.records.importing.test_right import _nothing_odd_is_looked_for
from tests.records.trays.test_corrected import RED_AND_NOTE, of
from tests.serving.bringing.test_bringing import BENCH, bench_day
from tests.serving.bringing.visitor import Visitor

__all__ = ["_nothing_odd_is_looked_for"]
MINE, OTHER = "a" * 32, "b" * 32
LATER = [["2.6", *FIGURES[0][1:]], *FIGURES[1:]]


def answer(visitor: Visitor, address: str, page: str, said: str, ticked: int = 0, turn: str = "") -> str:
    """Fill in the question on values that differ, and send it."""
    radio = re.search(r'<input type="radio" name="(q\w+)"', page)[1]  # type: ignore[index]
    boxes = re.findall(r'<input type="checkbox" name="(q\w+)"', page)
    given = {"turn": turn or re.search(r'name="turn" value="(\d+)"', page)[1], radio: said}  # type: ignore[index]
    given |= dict.fromkeys(boxes[:ticked], "yes")
    assert visitor.post(f"{address}/differing", given)[0] == 303
    return visitor.rest(address)


def test_the_file_is_right_as_a_whole_one_by_one_or_not(room, ann):
    address = ann.bring("samples.csv", RED_AND_NOTE.encode())
    page = ann.rest(address)
    assert "2 values differ from the records" in page
    assert "samples.csv says another value in 2 places; which is right?" in page
    assert f'value="{KEEP}" checked' in page
    assert "=1+1 &lt;b&gt;" in page
    assert "=1+1 <b>" not in page
    assert page.count("differs from what stands") == 0
    page = answer(ann, address, page, SINGLY, ticked=1)
    assert "1 value will be replaced when you keep this" in page
    assert page.count('value="yes" aria-label="the file is right: S1, red" checked') == 1
    old = answer(ann, address, page, KEEP, turn="1")
    assert "Somebody answered here meanwhile" in unescape(old)
    assert of(room.desk.place)[0] == 6.5
    chosen = {"turn": "2", re.search(r'type="radio" name="(q\w+)"', page)[1]: RIGHT}  # type: ignore[index]
    ann.post(f"{address}/keep", chosen)  # another one was chosen, and nothing was read by it yet
    assert "2 values will be replaced" in ann.rest(address)
    assert of(room.desk.place)[0] == 6.5
    ann.post(f"{address}/keep", chosen | {"turn": "3"})
    ann.rest(address)
    assert "2 values replaced" in ann.rest(address)
    assert of(room.desk.place)[0] == 7
    assert ann.post("/records/undo?number=1")[0] == 200
    assert of(room.desk.place)[0] == 6.5


def send(visitor: Visitor, day: bytes, page: str = MINE, right: str = "") -> dict:
    import json

    status, text = visitor.post(
        f"/records/send?{urlencode({'name': BENCH, 'page': page, 'right': right})}", day
    )
    assert status == 200
    return json.loads(text)


def suture(room: Room) -> float:
    return float(read(room.desk.place).tables["fruit"]["suture_mm"].iloc[12])


def test_the_page_that_sent_a_value_is_asked_whether_its_correction_is_right(room, ann, tmp_path):
    send(ann, bench_day(tmp_path, five("Alvane", FIGURES, "2")))
    later = bench_day(tmp_path, five("Alvane", LATER, "2", note="=1 <b>"))
    told = send(ann, later)
    assert told["kept"] is True
    assert told["differs"]["count"] == 1
    assert told["differs"]["values"] == ["low 2024-07-03 Alvane 2, fruit 1, suture_mm: 63.5 was sent, 66.04 now, typed as 2.6"]  # fmt: skip
    assert suture(room) == 63.5
    assert read(room.desk.place).tables["samples"]["note"].iloc[-1] == "=1 <b>"  # was empty
    assert send(ann, later, right="0" * 16)["differs"] == told["differs"]  # said of other values
    assert suture(room) == 63.5
    assert send(ann, later, right=told["differs"]["whole"]) == {"kept": True, "said": "1 value replaced."}
    assert suture(room) == pytest.approx(66.04)
    assert [(one.who, one.old) for one in changes_in(room.desk.place)] == [("Ann", "63.5")]


def test_another_page_or_what_changed_since_is_set_aside_and_told(room, ann, tmp_path):
    send(ann, bench_day(tmp_path, five("Alvane", FIGURES, "2")))
    later = bench_day(tmp_path, five("Alvane", LATER, "2"))
    for page in (OTHER, OTHER):  # what it sent before did not come in
        told = send(ann, later, page)
        assert "differs" not in told
        assert "1 value differs from what somebody else brought in, and that stands" in told["said"]
        assert "/records" in told["said"]
    assert len(list((room.desk.folder / "sent").iterdir())) == 2
    # Somebody corrected it by hand meanwhile: this page does not know of that value.
    table = room.desk.place / "fruit.csv"
    table.write_text(table.read_text().replace("Alvane 2,1,63.5", "Alvane 2,1,64.5"))
    assert "differs" not in send(ann, later)
    assert suture(room) == 64.5


def test_days_sent_long_ago_are_forgotten(room, monkeypatch):
    monkeypatch.setattr(sent, "REMEMBERED", 2)
    for number in range(4):
        sent.remember(room.desk, MINE, f"{number}.csv", b"x")
    sent.remember(room.desk, "../../etc", "a.csv", b"x")
    assert len(list((room.desk.folder / "sent").iterdir())) == 2
