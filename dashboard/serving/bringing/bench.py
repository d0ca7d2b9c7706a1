"""The bench page handed out by the server, and what is sent from it: kept at once, because a bench sheet leaves no question open."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from markupsafe import Markup
from tornado.web import stream_request_body

from dashboard.answers import catalogue
from dashboard.answers.catalogue import site_name
from dashboard.handout.bench.command import day_at
from dashboard.handout.bench.page import page
from dashboard.records.heaps import MEND
from dashboard.records.store.opening import Place
from dashboard.records.trays import sent
from dashboard.records.trays import tray as trays
from dashboard.records.trays.tray import ASKED, KEPT, Tray, TrayError
from dashboard.serving.bringing import frame
from dashboard.serving.bringing.door import Inside
from dashboard.serving.bringing.work import TOLD
from dashboard.terms.units import SYSTEMS
from dashboard.wording.figures import counted

SEND = f"{frame.HOME}/send"
LARGEST = 2_000_000  # bytes of a day; two hundred samples have a tenth of it
TOO_LARGE = "This day is larger than can be sent at once; save its file, and bring that."
WAITS = "It asks something first; open /records in another tab, and answer there."


def sites(place: Place) -> list[tuple[str, str]]:
    """Short name and name of every site of the records."""
    known = catalogue.load(place)
    return [(site, site_name(known, site)) for site in known.sites["site"].astype(str)]


def form(known: Sequence[tuple[str, str]]) -> Markup:
    """Which site and day the bench page is to be of."""
    if not known:
        return Markup("")
    options = frame.several(Markup('<option value="{}">{}</option>').format(*one) for one in known)
    return Markup("""<h2>Measure at the bench</h2><p>The page of a site and day: what may be ripe, and a place to type what you measure. It sends what you typed here.</p>
<form method="get" action="{}/bench" class="line"><label>Site <select name="site">{}</select></label>
<label>Day <input type="date" name="date" value="{}" required></label>
<label>Units <select name="units"><option value="us">inches and pounds</option><option value="si">mm and N</option></select></label>
<button>Open the bench page</button></form>""").format(frame.HOME, options, date.today().isoformat())  # fmt: skip


class Bench(Inside):
    async def get(self) -> None:
        site, on = self.get_query_argument("site", ""), self.get_query_argument("date", "")
        units = self.get_query_argument("units", "us")
        try:
            system = units if units in SYSTEMS else "us"
            made = await asyncio.to_thread(lambda: page(day_at(self.room.desk.place, site, on, system), SEND))
        except (ValueError, *TOLD) as fault:
            self.refuse(400, str(fault))
            return
        # A tab that a phone let go comes back without network.
        self.set_header("Cache-Control", "private, max-age=43200")
        self.finish(made)


@stream_request_body
class Send(Inside):
    """A day as the bench page has it. ``kept`` is said only once it is in the records."""

    plain = True

    def prepare(self) -> None:
        super().prepare()
        self._parts: list[bytes] = []
        if not self.answered:
            size = self.request.headers.get("Content-Length", "")
            if not size.isdigit() or int(size) > LARGEST:
                self.refuse(413, TOO_LARGE)
                return
            self.request.connection.set_max_body_size(LARGEST)  # type: ignore[union-attr]

    def data_received(self, chunk: bytes) -> None:
        self._parts.append(chunk)

    async def post(self) -> None:
        try:
            told = await asyncio.to_thread(
                self._kept, b"".join(self._parts), *(self.get_query_argument(one, "") for one in ("name", "page", "right"))
            )  # fmt: skip
        except TOLD as fault:
            self.refuse(409, str(fault))
            return
        self.finish(told)

    def _kept(self, content: bytes, name: str, page: str, right: str) -> dict[str, Any]:
        desk = self.room.desk
        name, one = trays.file_name(name), trays.new_tray(desk, self.who)
        place = trays.place_for(one, name, len(content))
        place.write_bytes(content)
        trays.take_in(desk, one, name, place)
        try:
            asked = self.room.work.send(one.id, self.who, page, right)
            one = trays.tray(desk, one.id)
            if one.stage == KEPT:
                trays.forget_old(desk)
                sent.remember(desk, page, name, content, bool(asked))
                return {
                    "kept": True,
                    "said": said(one, len(asked)),
                    **({"differs": differs(asked)} if asked else {}),
                }
            if one.stage == ASKED:
                return {"kept": False, "said": WAITS}
            raise TrayError(" ".join(one.found.get("said", [])) or WAITS)
        except Exception:  # the page keeps it, so nothing has to be kept here
            trays.leave(desk, one.id)
            raise


def differs(values: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """What the page asks: values that still stand as it sent them before, and are others now."""
    lines = [
        f"{one['where']}: {one['old']} was sent, {one['new']} now{'' if one['new'] == one['written'] else ', typed as ' + one['written']}"
        for one in values
    ]  # fmt: skip
    return {"whole": sent.named(values), "count": len(values), "values": lines}


def said(one: Tray, asked: int) -> str:
    """What came of a day that was sent; ``asked``: values that the page asks about."""
    found = one.found
    came, replaced = found["came"], found["replaced"]
    differ = [value for file in found["differing"] for value in file["values"] if not value["right"]]
    aside = found["counts"]["aside"] - len(differ)
    words = [
        f"Kept: {counted(came['samples'], 'new sample')}, {came['fruit']:,} new fruit."
        if one.kept["number"] and (came["samples"] or came["fruit"] or not replaced)
        else "" if replaced or differ else one.kept["said"],
        f"{counted(replaced, 'value')} replaced." if replaced else "",
    ]  # fmt: skip
    if others := len(differ) - asked:
        words.append(f"{counted(others, 'value')} {'differs' if others == 1 else 'differ'} from what somebody else brought in, and that stands: {differ[0]['where']} is {differ[0]['old']}. Bring the day's file at /records to say which is right.")  # fmt: skip
    if aside:
        words.append(f"{counted(aside, 'cell')} set aside: {found['heaps'][MEND]['lines'][0]}")
    return " ".join(filter(None, words))
