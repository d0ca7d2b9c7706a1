"""What the pages of this room are asked for, and what their buttons do."""

from __future__ import annotations

import asyncio
import time
from typing import Any

from tornado.web import stream_request_body

from dashboard.records.all_or_none import OWN
from dashboard.records.importing.aside import NAME as ASIDE
from dashboard.records.sheets import MAX_BYTES
from dashboard.records.trays import tray as trays
from dashboard.records.trays.kept import came_in
from dashboard.records.trays.tray import ASKED, FAILED, GATHERING, KEPT, READ, REFUSED, Tray, TrayError
from dashboard.serving.bringing import asking, differing, frame, home, told
from dashboard.serving.bringing.bench import form
from dashboard.serving.bringing.door import NOT_THERE, Inside
from dashboard.serving.bringing.work import TOLD

BUSY = "These files are being read just now; wait until that is done."
OLD_FORM = "Somebody answered here meanwhile; these are the questions that are left."
UNREADABLE = "What came in cannot be listed: {why}"


class Home(Inside):
    async def get(self) -> None:
        await self.tell()

    async def tell(self, notice: str = "", done: str = "", status: int = 200) -> None:
        desk = self.room.desk
        here = await asyncio.to_thread(trays.trays, desk)
        try:
            came = await asyncio.to_thread(came_in, desk)
        except TOLD as fault:
            came, notice = [], notice or UNREADABLE.format(why=fault)
        bench = form(await asyncio.to_thread(self.room.sites))
        self.show("Bring records in", home.body(here, came, self.who, bench, notice, done), status)


class Undo(Home):
    async def post(self) -> None:
        number = self.get_query_argument("number", "")
        try:
            done = await asyncio.to_thread(self.room.work.take_back, int(number) if number.isdecimal() and len(number) < 10 else 0, self.who)  # fmt: skip
        except TOLD as fault:
            await self.tell(notice=str(fault), status=409)
            return
        await self.tell(done=done)

    async def get(self) -> None:
        self.redirect(frame.HOME)


class NewTray(Inside):
    plain = True

    async def post(self) -> None:
        try:
            made = await asyncio.to_thread(trays.new_tray, self.room.desk, self.who)
            await asyncio.to_thread(trays.forget_old, self.room.desk)
        except TrayError as fault:
            self.refuse(409, str(fault))
            return
        self.finish({"tray": made.id})


@stream_request_body
class Upload(Inside):
    """One file as the whole body, onto the disk as it comes; what is too large is refused before it is sent."""

    plain = True
    _file: Any = None

    def prepare(self) -> None:
        super().prepare()
        if self.answered:
            return
        try:
            self._tray = trays.tray(self.room.desk, self.path_args[0])
            self._name = trays.file_name(self.get_query_argument("name", ""))
            size = self.request.headers.get("Content-Length", "")
            if not size.isdigit():
                raise TrayError("How large the file is was not said; choose it again.")
            if self.room.work.going(self._tray.id) or self._tray.stage == KEPT:
                raise TrayError(BUSY if self._tray.stage != KEPT else "These files are kept already; bring others as new ones.")  # fmt: skip
            self._place = trays.place_for(self._tray, self._name, int(size))
        except TrayError as fault:
            self.refuse(413 if "MB" in str(fault) else 409, str(fault))
            return
        self.request.connection.set_max_body_size(MAX_BYTES)  # type: ignore[union-attr]
        self._file = self._place.open("xb")

    def data_received(self, chunk: bytes) -> None:
        if self._file is not None:
            self._file.write(chunk)

    async def post(self, _name: str) -> None:
        self._file.close()
        try:
            await asyncio.to_thread(trays.take_in, self.room.desk, self._tray, self._name, self._place)
        except TrayError as fault:
            self.refuse(409, str(fault))
            return
        self.finish({"name": self._name})

    def on_connection_close(self) -> None:
        self._clear()

    def on_finish(self) -> None:
        self._clear()

    def _clear(self) -> None:
        """What did not come whole is no file."""
        if self._file is not None:
            self._file.close()
            self._place.unlink(missing_ok=True)


class OneTray(Inside):
    """A tray as it is; one that was never read is read now, also after the server was stopped midway."""

    def found(self, name: str) -> Tray | None:
        try:
            return trays.tray(self.room.desk, name)
        except TrayError as fault:
            self.refuse(404, str(fault))
            return None

    async def get(self, name: str) -> None:
        work = self.room.work
        # Asked first: what ends while the tray is looked at was being done, and is not begun again.
        going = work.going(name)
        one = self.found(name)
        if one is None:
            return
        if going is None and one.stage == GATHERING and one.files:
            work.read(name)
            going = work.going(name)
        if going is not None:
            self.show("Reading your sheets", told.doing(one, going.what, work.ahead(name)), waits=True)
            return
        one = self.found(name)
        if one is None:
            return
        titles = {ASKED: "What your sheets do not say", READ: "What would come in", KEPT: "What came in", REFUSED: "These sheets cannot come in as they are", FAILED: "These sheets cannot come in as they are"}  # fmt: skip
        notice = work.said.get(name, "")
        body = told.body(one, notice, self.room.title) if one.files else told.drop(one.id)
        self.show(titles.get(one.stage, "Bring records in"), body + told.DOES)


class Doing(OneTray):
    plain = True

    async def get(self, name: str) -> None:
        if self.found(name) is None:
            return
        going = self.room.work.going(name)
        seconds = round(time.monotonic() - going.since) if going else 0
        self.finish({"what": going.what if going else "", "seconds": seconds, "ahead": self.room.work.ahead(name)})  # fmt: skip


class Does(OneTray):
    """A button of a tray: read, answers, keep, leave, and what follows a refusal."""

    async def post(self, name: str, does: str) -> None:
        one = self.found(name)
        if one is None:
            return
        try:
            await getattr(self, f"_{does}")(one)
        except TOLD as fault:
            self.refuse(409, str(fault))

    async def get(self, name: str, _does: str = "") -> None:
        self.redirect(f"{frame.HOME}/trays/{name}")

    async def _read(self, one: Tray) -> None:
        if one.stage != KEPT:
            self.room.work.read(one.id)
        self._back(one)

    async def _answers(self, one: Tray) -> None:
        if one.stage != ASKED or self.get_body_argument("turn", "") != str(one.turn):
            self.room.work.said[one.id] = OLD_FORM
        else:
            given = asking.answers(one.found["questions"], self._given)
            self.room.work.read(one.id, given)
        self._back(one)

    async def _differing(self, one: Tray) -> None:
        """What is right where the records have another value."""
        if one.stage != READ or self.get_body_argument("turn", "") != str(one.turn):
            self.room.work.said[one.id] = OLD_FORM
        else:
            self.room.work.read(one.id, differing=differing.said(one.found["differing"], self._given))
        self._back(one)

    def _given(self, field: str) -> str:
        return self.get_body_argument(field, "")

    async def _ask_again(self, one: Tray) -> None:
        """The answers of this tray alone are forgotten; those that were kept before are offered again."""
        if one.stage != KEPT and not self.room.work.going(one.id):
            one.mapping.unlink(missing_ok=True)
            self.room.work.read(one.id)
        self._back(one)

    async def _longer(self, one: Tray) -> None:
        if one.stage == REFUSED:
            self.room.work.read(one.id, longer=True)
        self._back(one)

    async def _keep(self, one: Tray) -> None:
        values = one.found.get("differing", ())
        if one.stage == READ and self.get_body_argument("turn", "") and differing.other(values, self._given):
            await self._differing(one)  # chosen, and not read by yet
            return
        if one.stage == READ:
            self.room.work.keep(one.id, self.who)
        self._back(one)

    async def _leave(self, one: Tray) -> None:
        if self.room.work.going(one.id):
            raise TrayError(BUSY)
        await asyncio.to_thread(trays.leave, self.room.desk, one.id)
        self.redirect(frame.HOME, status=303)

    def _back(self, one: Tray) -> None:
        self.redirect(told.address(one), status=303)


class Aside(OneTray):
    """The sheet of what was set aside, to be put right and brought again."""

    async def get(self, name: str) -> None:
        one = self.found(name)
        if one is None:
            return
        place = one.folder / ASIDE if one.stage == KEPT else one.trial / OWN / ASIDE
        if not place.is_file():
            self.refuse(404, NOT_THERE)
            return
        self.set_header("Content-Type", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet")
        self.set_header("Content-Disposition", 'attachment; filename="set_aside.xlsx"')
        self.finish(await asyncio.to_thread(place.read_bytes))


class NotThere(Inside):
    def get(self, *_path: str) -> None:
        self.refuse(404, NOT_THERE)
