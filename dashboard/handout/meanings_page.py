"""The last page: what the words mean, and what the figures rest on."""

from __future__ import annotations

from dashboard.answers.question import Question
from dashboard.handout.blocks import Beside, Block, Words
from dashboard.handout.layout import Section
from dashboard.handout.summary_page import NUMBERED
from dashboard.handout.tables import meanings as rests_on
from dashboard.terms.glossary import OURS, PRACTICE, TERMS

SIZE = 6.9
MARKS = {PRACTICE: "*", OURS: "†"}


def meanings(asked: Question) -> Section:
    explained = [
        Words(f"{term.meaning}{MARKS.get(term.source, '')}", lead=term.name, size=SIZE, after=1.2)
        for term in TERMS
    ]
    marks = "; ".join(f"{mark} {source}" for source, mark in MARKS.items())
    lines = tuple(
        Words(told, lead=f"{word}:", size=SIZE, after=1.0, most=4) for word, told in rests_on(asked)
    )
    half = (len(lines) + 1) // 2
    blocks: list[Block] = [
        Words("Meanings", size=15, bold=True, heading=True, after=4),
        *explained,
        Words(marks, size=SIZE, quiet=True),
        Words("What the figures rest on", size=10, bold=True, heading=True, before=4, after=2),
        Beside(lines[:half], lines[half:]),
        Words(NUMBERED, size=SIZE, quiet=True),
    ]
    return Section("meanings", "Meanings", tuple(blocks), whole=True)
