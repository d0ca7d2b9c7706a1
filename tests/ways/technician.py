"""A scripted technician: answers the command's own questions on the terminal from what is known, in the cheapest way a sensible person would.

A question that it does not know, an answer that is refused, and a list that shows something else than what is known fail loudly.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from dashboard.records.importing.kinds import LISTS, ONE_BY_ONE
from dashboard.records.importing.mapping import ANY, Path_, Question
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.importing.together import Part, Together
from tests.ways.way import Answer

YES = "yes"


class NotKnown(BaseException):
    """A question that nobody wrote an answer to: no ordinary fault, which the import would tell as one of its own."""


@dataclass
class Technician:
    knows: Sequence[tuple[str, Answer]]
    called: Mapping[str, str]
    typed: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    _next: list[str] = field(default_factory=list)

    def expect(self, group: Together) -> None:
        """What will be typed at these lines."""
        self._next = list(self._typed(group))

    def done(self) -> None:
        if self._next:
            raise NotKnown(f"not asked for any more: {self._next}")

    def input(self, prompt: str = "") -> str:
        print(prompt, end="")
        if not self._next:
            raise NotKnown(f"asked once more: {prompt}\n{self.asked[-1]}\n{self.typed[-3:]}")
        said = self._next.pop(0)
        self.typed.append(said)
        return said

    def _typed(self, group: Together) -> Iterator[str]:
        self.asked.append(f"{group.kind or group.first.path[-1]}: {group.about} {group.asks}")
        each = [[self.wanted(one) for one in part.members] for part in group.parts]
        wanted = [some[0] if len({*some}) == 1 else ONE_BY_ONE for some in each]
        if group.single:
            yield self._one(group.parts[0].alone, wanted[0])
            yield from self._of_each(group.parts[0], wanted[0])
            return
        if group.kind in LISTS:
            yield from self._of_list(group, wanted)
            return
        if 1 < len({*wanted}) == len(wanted):
            yield from self._lines(list(zip(group.parts, wanted, strict=True)))
            return
        most = Counter(wanted).most_common(1)[0][0]
        yield from self._lines([(part, word) for part, word in zip(group.parts, wanted, strict=True) if word != most])  # fmt: skip
        yield self._short(group.first, most)

    def _of_list(self, group: Together, wanted: Sequence[str]) -> Iterator[str]:
        """What is shown wrong and what has no answer yet is answered, the rest confirmed with it; what is not used at once where it is much."""
        lines = list(zip(group.parts, wanted, strict=True))
        right = [(part, word) for part, word in lines if part.first.proposal and word == part.first.proposal]
        said = [one for one in lines if one not in right]
        unused = [one for one in said if NOT_USED in group.words and one[1] == NOT_USED and not one[0].first.proposal]  # fmt: skip
        unused = unused if len(unused) > 2 else []
        yield from self._lines([one for one in said if one not in unused], YES if right else "")
        if unused:
            yield NOT_USED

    def _lines(self, lines: Sequence[tuple[Part, str]], others: str = "") -> Iterator[str]:
        """Each line its answer, all that can be said so at once, with the word for all ``others``."""
        plain = [f"{part.tag}={word}" for part, word in lines if not _apart(part, word)]
        if plain or others:
            yield ", ".join([*([others] if others else []), *plain])
        for part, word in lines:
            if _apart(part, word):
                yield part.tag
                yield self._one(part.alone, word)
            yield from self._of_each(part, word)

    def _of_each(self, part: Part, word: str) -> Iterator[str]:
        """The answers of a line that is of several things, which have several answers."""
        if word == ONE_BY_ONE:
            yield from (self._one(one, self.wanted(one)) for one in part.members)

    def _one(self, question: Question, word: str) -> str:
        """Enter where it stands in brackets, a number where words have numbers, else the word."""
        return "" if word == question.offer else self._short(question, word)

    @staticmethod
    def _short(question: Question, word: str) -> str:
        words = [one for one in question.options if one != ANY]
        if question.numbered and word in words and len(words) <= 12:
            return str(words.index(word) + 1)
        return word

    def wanted(self, question: Question) -> str:
        """What is known to be right."""
        path = question.path
        if path[0] in ("cultivars", "sites") and (spelled := self.called.get(str(path[1]))) is not None:
            return spelled
        if path[0] == "new_cultivars":
            return self._of_new(question)
        where = place(question.path, question)
        for pattern, answer in self.knows:
            if re.search(pattern, where):
                return answer(question) if callable(answer) else answer
        raise NotKnown(f"nobody knows {where}: {question.asks} {question.options} {question.shown}")

    def _of_new(self, question: Question) -> str:
        """The list is looked through for what is none."""
        for spelling, name in self.called.items():
            if spelling != name and question.may(spelling):
                return spelling
        return YES


def _apart(part: Part, word: str) -> bool:
    """Whether an answer has a comma of its own, which parts lines; not so of scales."""
    return bool(re.search("[,;=]", word)) and part.first.alike[0] != "scale"


def place(path: Path_, question: Question) -> str:
    """Where the answer of a question stands, without the number of the layout, and what it is asked of."""
    steps = path[2:] if path[0] == "layout" else path
    return f"{'/'.join(map(str, steps))} @ {question.about} {question.line[1]}"
