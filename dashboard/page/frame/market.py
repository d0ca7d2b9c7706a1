"""The chosen market's limits and wishes, to be changed, taken home as a profile, or brought along as one."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import param

from dashboard.market import Market, MarketError
from dashboard.market.drafting import FIELDS, Draft, DraftFaultError, Part, class_words
from dashboard.market.reading import market_of, right_size
from dashboard.market.statements import stated, statements
from dashboard.market.writing import file_name, sourced, toml
from dashboard.page.frame.market_dress import EDITOR_CSS
from dashboard.page.parts import live
from dashboard.page.parts.files import content_of
from dashboard.page.parts.live import at_once
from dashboard.page.patches.scripted import Element
from dashboard.terms.traits import trait_called
from dashboard.visit.state import State

_LONGEST = {"name": 200, "summary": 1000}  # characters of what a copy is called, and of what it is for
_MOST_CHANGES = 200  # of one message; a market has far fewer fields
_LONGEST_FILE = 100  # characters of an opened file's name


class MarketEditor(Element):
    """Figures, sliders and tick boxes of one market; ``act(message)`` is called once a change."""

    told = param.String(default="{}", doc="JSON of what ``tell`` was given, and the last message it answers")
    saved = param.String(
        default="", doc="JSON of the copy to be downloaded: file, text, and the message that asked"
    )

    script = Path(__file__).with_name("market.js")
    dress = (EDITOR_CSS,)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (0, 10), **params})
        self._act = act
        self._heard = 0

    def tell(self, view: dict[str, Any]) -> None:
        self.told = json.dumps({**view, "tick": self._heard}, ensure_ascii=False)

    @at_once
    def heard(self, msg) -> None:
        self._heard = int(msg.get("tick", 0))
        self._act(msg)


def market_editor(state: State) -> MarketEditor:
    return _Editing(state).editor


class _Editing:
    """One visitor's draft, and what became of it."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.editor = MarketEditor(self._heard)
        self.hand = live.Hand()
        self.opened: Market | None = None  # the profile last opened: sources and names come from it
        self._anew()
        live.follow(state, self._follow, "profile", "units")

    def _anew(self) -> None:
        """Draft what is asked."""
        asked = self.state.question
        self.draft = Draft(asked.profile, asked.units, asked.catalogue.own_traits)
        self.drawn = (asked.market, asked.own, asked.units)
        self.called: dict[str, str] = {}
        self.fault: MarketError | None = None
        self.note = ""

    def _follow(self, *_parts) -> None:
        """What was chosen elsewhere (a market, a link, units) takes the place of the draft."""
        asked = self.state.question
        if (asked.market, asked.own, asked.units) != self.drawn:
            called = self.called if (asked.market, asked.own) == self.drawn[:2] else {}
            self._anew()
            self.called = called
        self._tell()

    def _heard(self, msg: dict) -> None:
        changes = [(str(part), str(name), value) for part, name, value in msg.get("set", ())[:_MOST_CHANGES]]
        for part, name, value in changes:
            if name in _LONGEST:
                self.called[name] = " ".join(str(value).split())[: _LONGEST[name]]
            elif name.startswith("word "):
                self.draft.tick(part, name.removeprefix("word "), bool(value))
            else:
                self.draft.put(part, name, str(value))
        act, added, self.note = msg.get("act"), "", ""
        if act == "remove":
            self.draft.remove(str(msg.get("part")))
        elif act == "add":
            key = str(msg.get("key"))
            known = self.state.question.values.get(key)
            added = self.draft.add(str(msg.get("what")), key, () if known is None else known["estimate"])
        if act == "back":
            self._ask(())
        elif act == "open":
            file = " ".join(str(msg.get("file")).split())[:_LONGEST_FILE]
            content, size = str(msg.get("content", "")), msg.get("size")
            own = self.state.question.catalogue.own_traits
            if not self.hand.take(lambda: _opened(file, content, size, own), self._open):
                self.note = live.BUSY
        elif act in ("add", "remove") or any(name not in _LONGEST for _, name, _ in changes):
            self._settle()
        if act == "save":
            self._save(int(msg.get("tick", 0)))
        self._tell(added)

    def _settle(self) -> None:
        """Ask what the draft says; where it says nothing that can be followed the last good market stands."""
        self.fault = None
        try:
            lines = self.draft.lines
        except MarketError as fault:
            self.fault = fault
        else:
            asked = self.state.question
            own = () if lines == statements(asked.catalogue.markets.get(asked.market)) else lines
            self.drawn = (asked.market, own, asked.units)
            self.state.choose(own=own)

    def _ask(self, own: tuple[str, ...], **market: str) -> None:
        self.state.choose(own=own, **market)
        self._anew()

    def _open(self, market: Market | MarketError) -> None:
        """A profile from the visitor's disk, once it has been read; a fault leaves all as it stands."""
        if isinstance(market, MarketError):
            self.fault = market
            self._tell()
            return
        lines, markets = statements(market), self.state.question.catalogue.markets
        known = (market.name, market.name.removesuffix(", changed"))
        base = next((key for key, one in markets.items() if one.name in known), "")
        self.opened = market
        self._ask(() if lines == statements(markets.get(base)) else lines, market=base)
        self.called = {name: getattr(market, name)[:longest] for name, longest in _LONGEST.items()}
        self._tell()

    def _save(self, tick: int) -> None:
        """The market as a profile; while something typed cannot be followed, nothing is saved in its place."""
        asked = self.state.question
        if isinstance(self.fault, DraftFaultError) or asked.profile is None:
            self.note = f"Not saved: {self.fault}" if self.fault else ""
            return
        name, summary = self._named(asked.profile)
        if not name:
            self.fault = MarketError("Name of the copy", "", "", "a market has a name", "write one")
            return
        market = replace(asked.profile, name=name, summary=summary)
        written = toml(sourced(market, asked.catalogue.markets.get(asked.market), self.opened), asked.units)
        self.editor.saved = json.dumps({"file": file_name(name), "text": written, "tick": tick})
        self.fault = None

    def _named(self, profile: Market | None) -> tuple[str, str]:
        name, summary = (profile.name, profile.summary) if profile else ("", "")
        return self.called.get("name", name), self.called.get("summary", summary)

    def _tell(self, added: str = "") -> None:
        asked = self.state.question
        base = asked.catalogue.markets.get(asked.market)
        name, summary = self._named(asked.profile)
        self.editor.tell(
            {
                "title": "Change limits and wishes" if asked.profile else "Make a market of your own",
                "standing": _standing(base, asked.own),
                "back": _back(base, asked.own),
                "parts": [_part(part, asked.units) for part in self.draft.parts],
                "missing": {what: list(self.draft.missing(what).items()) for what in ("limit", "wish")},
                "fault": _fault(self.fault),
                "note": self.note,
                "added": added,
                "name": name,
                "summary": summary,
                "saves": asked.profile is not None,
            }
        )


def _opened(file: str, content: str, size: object, own: Sequence[str]) -> Market | MarketError:
    """The profile that a visitor sent, read by the rules of a file in a folder, or why it is none."""
    try:
        if isinstance(size, int):
            right_size(size, file)
        market = market_of(content_of(content), file, own)
        stated(statements(market), own=own)
    except MarketError as fault:
        return fault
    except ValueError:
        return MarketError(file, "", "", "did not arrive whole", "open it once more")
    return market


def _standing(base: Market | None, own: tuple[str, ...]) -> str:
    if not own:
        return f"{base.name}, as it is written." if base else "No market yet: add a limit or a wish."
    return f"{base.name}, with your changes." if base else "Your own market."


def _back(base: Market | None, own: tuple[str, ...]) -> str:
    if not own:
        return ""
    return "Back to the market as it is written" if base else "Take your own market off"


def _fault(fault: MarketError | None) -> dict[str, str] | None:
    if fault is None:
        return None
    of = fault if isinstance(fault, DraftFaultError) else None
    return {"part": of.part if of else "", "field": of.where if of else "", "text": str(fault)}


def _part(part: Part, system: str) -> dict[str, Any]:
    told: dict[str, Any] = {"id": part.id, "what": part.what, "title": part.label, "place": part.place}
    if part.kind == "class":
        return {**told, "words": [[word, word in part.words] for word in class_words(part.key)]}
    told["unit"] = trait_called(part.key).unit(system).symbol
    if part.exponent != 1:
        told["note"] = f"exponent {part.exponent:g}"
    fields = [[name, FIELDS[name], part.texts.get(name, "")] for name in part.fields]
    return {**told, "fields": fields, "shape": part.shape}
