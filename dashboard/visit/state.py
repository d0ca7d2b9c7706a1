"""What one visitor has chosen. Its only output is ``question``; every choice travels in the link."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import param

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.choices import CHOICES, FILTERS, Choices
from dashboard.answers.choosing import Choice, Known
from dashboard.answers.my_site import MySite
from dashboard.answers.question import QUESTION, Question, known_values
from dashboard.answers.spotlight import along
from dashboard.market import MarketError, spellings
from dashboard.market.statements import stated
from dashboard.visit import link as address
from dashboard.visit.history import Steps
from dashboard.visit.saved_views import View, named
from dashboard.wording.columns import offered
from dashboard.wording.presenting import PUT_ASIDE
from dashboard.wording.strip import NOT_CHANGED, left_bare

TABS = ("fruit", "season", "classes", "cultivar", "beside", "shortlist", "order", "site", "records")
LOOKS = ("page", "hall")
FREE = ("shortlist", "cultivar", "chosen", "beside", "other")  # what changes while one view is spoken of
OF = {"cultivar": "cultivar", "beside": "beside", "season": "shortlist"}  # but for what a tab is a picture of
PAIRS = ("size_sugar", "firmness_sugar", "size_firmness")
SHOWN = ("list", "pictures")
SHEETS = ("", "share", "present")
FILLING = ("", "asked", "proposed")
LINKED = (*QUESTION, "tab", "look", "pair", "shown")


def _parameter(choice: Choice) -> param.Parameter:
    """Several values, or one of the kind of its default; ``State.choose`` lets in only what is on offer."""
    kinds = {tuple: param.ClassSelector, str: param.String, int: param.Integer, type(None): param.Number}
    more = {"class_": tuple} if choice.several else {}
    return kinds[type(choice.default)](default=choice.default, **more)


if TYPE_CHECKING:

    class _Chosen(Choices, param.Parameterized): ...
else:  # a parameter a choice
    _Chosen = type(
        "_Chosen", (param.Parameterized,), {name: _parameter(one) for name, one in CHOICES.items()}
    )


class State(_Chosen):
    """One visitor. A choice that is not on offer is not made (``choose``, ``follow``). Beside the choices only what was changed of each
    market is kept, for this visit."""

    tab: str = param.Selector(default="fruit", objects=list(TABS), check_on_set=True)  # type: ignore[assignment]
    look: str = param.Selector(default="page", objects=list(LOOKS), check_on_set=True)  # type: ignore[assignment]
    pair: str = param.Selector(  # type: ignore[assignment]
        default=PAIRS[0], objects=list(PAIRS), check_on_set=True, doc="the picture of the hall"
    )

    shown: str = param.Selector(  # type: ignore[assignment]
        default=SHOWN[0],
        objects=list(SHOWN),
        check_on_set=True,
        doc="of the candidates: the list, or the pictures with it",
    )

    weather: MySite | None = param.ClassSelector(  # type: ignore[assignment]
        default=None, class_=MySite, doc="a place whose weather was brought, for this visit; in no link"
    )
    prepared: tuple[View, ...] = param.ClassSelector(  # type: ignore[assignment]
        default=(), class_=tuple, doc="views by name, in the order they will be shown; in no link"
    )
    prepared_at: int = param.Integer(default=-1, doc="the place of the one opened last; -1 for none")  # type: ignore[assignment]
    sheet: str = param.Selector(
        default="", objects=list(SHEETS), doc="which sheet lies under the top line; in no link"
    )  # type: ignore[assignment]
    sample: str = param.String(default="", doc="whose fruit the card is to open; in no link")  # type: ignore[assignment]
    opened_at: str = param.String(default="", doc="the page's address, as the browser says")  # type: ignore[assignment]
    filling: str = param.Selector(
        default="",
        objects=list(FILLING),
        check_on_set=True,
        doc="what fills the slate: asked, or proposed; in no link",
    )  # type: ignore[assignment]
    notices = param.ClassSelector(default=(), class_=tuple, doc="sentences the visitor must read; plain text")
    question: Question = param.ClassSelector(class_=Question, constant=True)  # type: ignore[assignment]

    def __init__(self, catalogue: Catalogue, query: str = "", bare: str = "", tabs: Iterable[str] = TABS):
        """``query`` is the link that was followed, "" for none; ``bare`` what a first visit asks; ``tabs`` those of this page."""
        tabs = tuple(tabs)
        super().__init__()
        if tabs != TABS:
            self.param["tab"].objects, self.tab = list(tabs), tabs[0]
        self.known = {
            **known_values(catalogue),
            "columns": offered(catalogue),
            "tab": tabs,
            "look": LOOKS,
            "pair": PAIRS,
            "shown": SHOWN,
        }
        self.defaults = {field: self.param[field].default for field in LINKED} | {"tab": tabs[0]}
        self.kept: dict[
            str, tuple[str, ...]
        ] = {}  # by market, what stands in its place; () for as it is written
        self._markets = {"": "", **spellings(catalogue.markets)}
        with param.parameterized.edit_constant(self):
            self.question = Question(catalogue)
        self.param.watch(
            self._ask, [*QUESTION, "weather"], precedence=1
        )  # once the tab that was asked for stands open
        self.bare = bare
        self.follow(bare)
        self.first_view = self.view  # the address of a first visit
        if query:
            self.follow(query)
        self.steps = Steps(self.view)
        self.param.watch(
            lambda _event: self.steps.went(self.view), "question", precedence=1
        )  # before any view asks
        self.param.watch(lambda *_events: self.steps.moved(self.view), ["tab", "pair", "shown"], precedence=1)

    def follow(self, query: str, **kept: Any) -> None:
        """Make the choices a link asks for, but for those ``kept``; what it asks in vain is told in ``notices``."""
        choices, notes = self._asked(query)
        try:
            stated(choices["own"], own=self.question.catalogue.own_traits) if "own" in choices else None
        except MarketError as fault:
            notes.append(f"This link's own market was left out: {fault}")
            del choices["own"]
        if why := self._wrong_way({**self.defaults, **choices}):
            notes.append(f"This link’s selling season was left out: {why}")
            choices = {name: value for name, value in choices.items() if name not in ("opens", "closes")}
        self.param.update(**{**self.defaults, **choices, **kept}, notices=tuple(notes))

    def choose(self, **choices: Any) -> None:
        """Make choices, all in one step; values that are not on offer are dropped."""
        choices = {
            f: v
            for f, v in choices.items()
            if f not in self.known or isinstance(v, tuple) or v in self.known[f]
        }
        for field, value in choices.items():
            if field in self.known and isinstance(value, tuple):
                known = self.known[field]
                on_offer = (
                    set(known) if isinstance(known, Iterable) and not isinstance(known, Known) else known
                )
                choices[field] = tuple(dict.fromkeys(item for item in value if item in on_offer))
        if why := self._wrong_way(choices):
            choices = {name: value for name, value in choices.items() if name not in ("opens", "closes")}
            choices["notices"] = (f"{why} {NOT_CHANGED}",)
        self.param.update(**{"notices": (), **choices})  # what was to be read has been read

    def sell_to(self, market: str) -> None:
        """Choose a market, with what was changed of it in this visit; an own market that goes with that is told."""
        gone = "Your own market was taken off; Undo brings it back."
        notices = (gone,) if self.own and not self.market else ()
        self.choose(market=market, own=self.kept.get(market, ()) if market else (), notices=notices)

    def fits(self, **choices: Any) -> bool:
        """Whether the link has room for these choices too."""
        return len(self._written("page", **{"chosen": (), **choices})) <= address.LONGEST

    def keep(self, cultivar: str) -> None:
        """Put a cultivar on the slate, or take it off; days that lie bare without it are told."""
        listed = self.shortlist
        if cultivar in listed:
            notices = left_bare(self.question, cultivar)
            self.choose(shortlist=tuple(name for name in listed if name != cultivar), notices=notices)
        else:
            self.choose(shortlist=(*listed, cultivar))

    def fill(self) -> None:
        """Ask what is to fill the slate, or propose it where that is known: who buys and from when to when, or what stands on it."""
        known = self.shortlist or (self.question.profile and self.opens and self.closes)
        self.choose(filling="proposed" if known else "asked", gap="")

    def open(self, cultivar: str) -> None:
        """Show everything known about one cultivar."""
        if cultivar in set(self.known["cultivar"]):
            self.choose(cultivar=cultivar, tab="cultivar")

    def start_over(self, *but: str) -> None:
        """Every filter off, ``but`` those named; market, shortlist and units stay."""
        self.param.update(**{field: self.defaults[field] for field in FILTERS if field not in but})

    def undo(self) -> bool:
        """Take the last choice back; False where there is none."""
        return self._walk(self.steps.back())

    def redo(self) -> bool:
        """Make again what was taken back last; False where nothing was."""
        return self._walk(self.steps.on())

    def start_afresh(self) -> None:
        """Everything as on a first visit."""
        self.kept.clear()
        self.follow(self.bare, look=self.look, weather=None)

    def step(self, by: int) -> None:
        """Speak of the cultivar so many places further down the ranking."""
        asked = self.question
        if asked.spotlight is not None:
            self.choose(cultivar=along(list(asked.ranking.index), self.cultivar or asked.spotlight.name, by))

    def prepare(self, name: str) -> None:
        """Keep this view among the prepared ones; ValueError, one sentence, for a bad name."""
        self.prepared = named(self.prepared, name, self.view)

    def open_prepared(self, place: int) -> None:
        """Show a prepared view with the slate that it was kept with, empty or not, in the look that stands; a place that is not there is
        left alone. A slate that was gathered meanwhile is told to be put aside: undo brings it back."""
        if 0 <= place < len(self.prepared):
            at, gathered = self.prepared_at, self.shortlist
            before = self.prepared[at].address if 0 <= at < len(self.prepared) else ""
            brought = self._asked(before)[0].get("shortlist", ())
            self.follow(self.prepared[place].address, look=self.look, prepared_at=place)
            if gathered and gathered not in (brought, self.shortlist):
                self.notices = (*self.notices, PUT_ASIDE.format(count=len(gathered)))

    @property
    def strayed(self) -> bool:
        """Whether what stands is another picture than the prepared view that was opened last; the shortlist and the cultivar spoken of are
        free where they are not what it shows."""
        return 0 <= self.prepared_at < len(self.prepared) and not self._stands(
            self.prepared[self.prepared_at]
        )

    def _stands(self, view: View) -> bool:
        asked = {**self.defaults, **self._asked(view.address)[0]}
        own = (field for field in QUESTION if field not in FREE or field == OF.get(self.tab))
        fields = (*own, "tab", "pair")
        return all(getattr(self, field) == asked[field] for field in fields)

    def _wrong_way(self, choices: dict[str, Any]) -> str:
        """Why the selling days cannot be with these choices; "" where they can."""
        if not {"opens", "closes"} & set(choices):
            return ""
        named = ("opens", "closes", "site", "season_kind")
        asked = {name: choices.get(name, getattr(self, name)) for name in named}
        return replace(self.question, **asked).wrong_way

    def _asked(self, query: str) -> tuple[dict[str, Any], list[str]]:
        """What a link asks for, and what it asks in vain; a market may stand there by its title too."""
        return address.read(query, {**self.known, "market": self._markets}, self.defaults)

    def walk_prepared(self, by: int) -> None:
        """So many prepared views on, or back; it ends at the last and the first."""
        here = self.prepared_at
        self.open_prepared(max(0, min(here + by, len(self.prepared) - 1)))

    def _walk(self, view: str | None) -> bool:
        if view is not None:
            self.follow(view, look=self.look)
            if self.strayed:  # from one prepared view into another
                stands = [place for place, one in enumerate(self.prepared) if self._stands(one)]
                self.prepared_at = stands[0] if stands else self.prepared_at
        return view is not None

    @property
    def link(self) -> str:
        """The address as it stands in the browser."""
        return self._written(self.look)

    @property
    def view(self) -> str:
        """The address of the same view on the ordinary page."""
        return self._written("page")

    def view_on(self, tab: str) -> str:
        """The address of the same question on another tab of the ordinary page."""
        return self._written("page", tab=tab)

    def view_of(self, cultivar: str) -> str:
        """The address of the same question on the ordinary page, open on this cultivar."""
        return self._written("page", cultivar=cultivar, tab="cultivar")

    def _written(self, look: str, **other: Any) -> str:
        """Only what was chosen in a picture is left out where it would grow too long."""
        choices = {**{field: getattr(self, field) for field in LINKED}, "look": look, **other}
        whole = address.written(choices, self.defaults)
        return (
            whole
            if len(whole) <= address.LONGEST
            else address.written({**choices, "chosen": ()}, self.defaults)
        )

    def _ask(self, *_events) -> None:
        self.kept[self.market] = self.own
        with param.parameterized.edit_constant(self):
            self.question = Question(
                self.question.catalogue,
                weather=self.weather,
                **{field: getattr(self, field) for field in QUESTION},
            )
