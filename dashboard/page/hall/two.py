"""Which two are set against each other, in which trait, and who named them."""

from __future__ import annotations

from dashboard.answers.question import Question
from dashboard.wording import set_against

NO_TWO = "There are no two cultivars to set against each other."


class Two:
    """Who is named is the second. Who is named after that is, too, and the one named before becomes the first, unless the first was asked for
    by name before; from then on the first stays."""

    def __init__(self) -> None:
        self.trait = self.first = self.second = (
            ""  # "" for the market's first, for the view's own, for the best
        )

    def begin(self, trait: str = "") -> None:
        """Nobody is named yet: what was asked of another pair is not asked of this one."""
        self.trait, self.first, self.second = trait, "", ""

    def name(self, name: str, found: bool) -> None:
        """``found``: the first was asked for by name."""
        if self.second and not self.first and not found and name != self.second:
            self.first = self.second
        self.second = name

    def turn(self, asked: Question) -> None:
        """To the next trait."""
        order = set_against.traits(asked)
        at = order.index(self.trait) if self.trait in order else 0
        self.trait = order[(at + 1) % len(order)]

    def walks(self, asked: Question) -> bool:
        """Whether the first goes along with who is spoken of."""
        return not self.first and set_against.walks(asked)

    def told(self, asked: Question, found: bool) -> list[str]:
        """How they differ, why these, and how others are named; why not, where there are no two."""
        names = set_against.pair(asked, self.second, self.first)
        if not names:
            return [NO_TWO]
        how = set_against.named_how(asked, names, self.second, bool(self.first) or found)
        return [*set_against.against(asked, names, self.trait), how]
