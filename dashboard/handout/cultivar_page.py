"""One page a cultivar: what is recorded, what it is worth and how sure that is, when it is picked, what the market makes of it."""

from __future__ import annotations

from dataclasses import replace

from dashboard.answers.question import Question
from dashboard.handout.account import chances, costs
from dashboard.handout.blocks import Beside, Block, Words
from dashboard.handout.layout import Section
from dashboard.handout.picking import picking
from dashboard.handout.worth import worth
from dashboard.wording import figures as words
from dashboard.wording.account import account_told
from dashboard.wording.cautions import CAUTIONS, PROTECTED
from dashboard.wording.facts import facts
from dashboard.wording.my_site import chill_facts

LONGEST_FACT = 5  # lines


def cultivar(asked: Question, name: str, key: str, place: int) -> Section:
    """``place`` on the shortlist, by its ranking."""
    asked = replace(asked, cultivar=name)
    dossier = asked.dossier
    assert dossier is not None
    told = facts(asked.catalogue, dossier, asked.units)
    if asked.chosen_winters is not None:
        told += chill_facts(asked, name)
    of = f"place {place} of {len(asked.shortlisted)} on this list"
    kind = words.kind(dossier["facts"])
    blocks: list[Block] = [
        Words(name, size=15 if len(name) < 60 else 9.5, bold=True, heading=True, after=1, most=4),
        Words(", ".join(filter(None, (kind, str(dossier["facts"]["status"]), of))), size=8.5, quiet=True, after=4),
    ]  # fmt: skip
    if asked.profile:
        blocks.append(Words(dossier["reason"], lead=f"{asked.profile.name}:", after=2))
        blocks += [Words(line, after=2) for line in account_told(asked)]
    lines = tuple(
        Words(text, lead=f"{label}:", size=7.4, after=1.2, most=LONGEST_FACT) for label, text in told
    )
    blocks.append(Beside(lines, picking(asked), part=0.46))
    blocks.append(worth(asked))
    if asked.profile:
        blocks += [costs(asked), *chances(asked)]
    if dossier["facts"]["protected"]:
        blocks.append(Words(PROTECTED, bold=True, after=2))
    blocks.append(Words(" ".join(CAUTIONS), size=6.8, quiet=True, after=0))
    return Section(key, name, tuple(blocks), whole=True)
