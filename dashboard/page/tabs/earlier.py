"""What the values of an opened sample were before, asked for by a press: nothing is read until then, and nothing is shown where nobody can know."""

from __future__ import annotations

from markupsafe import Markup

from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.buttons import Button
from dashboard.page.parts.elements import Prose, paragraphs
from dashboard.records.earlier import Earlier, earlier, has_earlier
from dashboard.records.store.opening import StoreError
from dashboard.visit.state import State
from dashboard.wording.earlier import NONE, told
from dashboard.wording.figures import counted

SHOWN = 40


class EarlierValues:
    """``shown`` stands below the fruit of the sample that was opened."""

    def __init__(self, state: State) -> None:
        self._state, self._sample = state, ""
        self.button = Button("What was another value before?", self._ask, variant="outlined")
        self.words = Prose(visible=False)
        self.shown = Column(self.button, self.words, visible=False, sizing_mode="stretch_width")

    def of(self, sample: str) -> None:
        """Another sample was opened, or none."""
        self._sample = sample
        self.words.visible = False
        source = self._state.question.catalogue.source
        self.shown.visible = bool(sample and source) and has_earlier(source)

    def _ask(self) -> None:
        source, sample = self._state.question.catalogue.source, self._sample

        def tell(found: list[Earlier] | StoreError) -> None:
            if sample == self._sample:
                self.words.say(said(found, self._state.question.units))
                self.words.visible = True

        live.aside(lambda: _read(source, sample), tell)  # a large store takes a moment


def _read(source: str, sample: str) -> list[Earlier] | StoreError:
    try:
        return earlier(source, sample)
    except StoreError as fault:
        return fault


def said(found: list[Earlier] | StoreError, units: str) -> Markup:
    """A line a value, the last to change first."""
    if isinstance(found, StoreError):
        return paragraphs([f"What stood before cannot be read just now: {found}"])
    lines = [told(one, units) for one in found[:SHOWN]]
    more = [f"And {counted(len(found) - SHOWN, 'earlier value')}."] if len(found) > SHOWN else []
    return paragraphs([*lines, *more] or [NONE])
