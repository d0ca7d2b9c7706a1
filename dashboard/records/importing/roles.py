"""What a column of somebody's sheets may be: the columns of the schema, and the words by which sheets call them.

A word here is an offer. Nothing is read before whoever knows the sheet has said that it is so.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from dashboard.records.not_used import plain
from dashboard.records.schema import TABLES, Column
from dashboard.terms.traits import HEADLINE
from dashboard.terms.units import QUANTITIES, UNITS, Unit

NOT_USED = "not used"
WHICH = "which reading"  # the column that says what the figures of a row are
NUMBER = "fruit number"

# A role is a column of the schema without its unit; of a mean "mean size", of its deviation "sd size".
_MEANT = {
    "size_mm": "mean size",
    "size_sd_mm": "sd size",
    "firmness_n": "mean firmness",
    "firmness_sd_n": "sd firmness",
    "ssc_brix": "mean sugar",
    "ssc_sd_brix": "sd sugar",
    "n": "fruit measured",
}
_LEFT_OUT = {
    "samples": ("date_precision",),
    "fruit": ("sample", "fruit"),
    "means": ("sample",),
    "cultivars": ("cultivar", "note"),
}


@dataclass(frozen=True)
class Role:
    name: str
    table: str
    column: Column

    @property
    def units(self) -> dict[str, Unit]:
        """The units it may be written in; more than one has to be asked for."""
        found = QUANTITIES.get(self.column.quantity, ())
        return {suffix: UNITS[suffix] for suffix in found} if len(found) > 1 else {}

    @property
    def unit(self) -> Unit | None:
        return next(iter(self.column.spellings.values()))

    def heading(self, unit: str) -> str:
        """The column's name in this unit."""
        return next(
            (spelling for spelling, other in self.column.spellings.items() if other and other.suffix == unit),
            self.column.name,
        )

    @property
    def measured(self) -> bool:
        """A number read off a fruit or an instrument, or a judgement: not a count or a key."""
        return self.column.kind == "number"


def _roles() -> dict[str, Role]:
    found: dict[str, Role] = {}
    for table in ("samples", "fruit", "means", "cultivars"):
        for column in TABLES[table].columns:
            if column.name in _LEFT_OUT[table]:
                continue
            unit = next(iter(column.spellings.values()))
            name = _MEANT[column.name] if table == "means" else _without(column.name, unit)
            found[name] = Role(name, table, column)
    return found


def _without(name: str, unit: Unit | None) -> str:
    suffix = f"_{unit.suffix}" if unit else ""
    name = name.replace("colour", "color")
    return (
        name.removesuffix(suffix).replace("_", " ")
        if suffix and name.endswith(suffix)
        else name.replace("_", " ")
    )


# The error of a mean is written where its deviation would be: it is read into that column, times the root of the number of fruit.
ERRORS = {name.replace("sd", "se", 1): name for name in _MEANT.values() if name.startswith("sd ")}
ROLES = _roles()
ROLES |= {error: Role(error, "means", ROLES[name].column) for error, name in ERRORS.items()}
SPREAD_OF = {f"mean {what}": {"sd": f"sd {what}", "se": f"se {what}"} for what in HEADLINE}
MEAN_OF = {"suture": "mean size", "cross": "mean size", "firmness 1": "mean firmness", "firmness 2": "mean firmness", "ssc": "mean sugar"}  # fmt: skip
READINGS = tuple(name for name, role in ROLES.items() if role.table == "fruit")
NAMED = ("cultivar", "site")
KEYS = ("cultivar", "site", "date", "pick", "sample")

# Common practice, no source: what such columns are called in sheets.
SYNONYMS: dict[str, tuple[str, ...]] = {
    "cultivar": ("cultivar", "variety", "selection", "cultivar selection", "variety selection", "cv", "clone", "cultivar name", "variety name", "name", "var", "genotype", "entry", "accession"),
    "site": ("site", "location", "orchard", "block", "farm", "station", "place", "loc", "plot location"),
    "date": ("date", "pick date", "harvest date", "sample date", "date picked", "picked", "day", "picking date", "sampled", "date of harvest", "doh", "harvested", "date harvested", "eval date", "evaluation date", "date evaluated", "sampled on", "date sampled", "picked on"),
    "pick": ("pick", "pick no", "pick number", "harvest", "harvest no", "picking"),
    "sample": ("sample", "sample id", "sample no", "sample number", "id"),
    "suture": ("suture", "sut", "suture dia", "suture diameter", "dia suture", "diameter suture", "sut diam", "sut dia", "diam sut", "diam suture", "size suture", "seam", "seam diameter", "diam 1", "dia 1", "d1"),
    "cross": ("cross", "cross dia", "cross diameter", "dia cross", "cheek dia", "cheek diam", "cheek diameter", "size cheek", "width", "diam cross", "size cross", "equatorial", "equator", "diam 2", "dia 2", "d2", "across"),
    "firmness 1": ("firmness 1", "firm 1", "pressure 1", "press 1", "p1", "cheek 1", "ff1", "firmness a", "ff a", "press a", "pressure a", "pressure side a", "side a", "firmness sun", "press sun", "penetrometer 1", "firmness", "pressure", "pressures", "press", "firm"),
    "firmness 2": ("firmness 2", "firm 2", "pressure 2", "press 2", "p2", "cheek 2", "ff2", "firmness b", "ff b", "press b", "pressure b", "pressure side b", "side b", "firmness shade", "press shade", "penetrometer 2"),
    "ssc": ("ssc", "brix", "soluble solids", "sugar", "tss", "sugars", "bx", "sol solids", "soluble solids content", "refractometer"),
    "shape": ("shape", "form"),
    "fuzz": ("fuzz", "pubescence", "fuzziness"),
    "red": ("red", "blush", "color", "red color", "over color", "skin color", "red blush"),
    "attractiveness": ("attractiveness", "appearance", "attract", "eye appeal", "looks", "appear", "attr"),
    "split pit": ("split pit", "split pits", "splits", "sp", "split pit pct", "split", "split pct"),
    "cracked tip": ("cracked tip", "cracked tips", "tip crack", "cracks", "open tip", "tip crk", "crk tips", "cracked tip pct"),
    "juice temp": ("juice temp", "juice temperature", "brix temp", "brix temperature", "prism temp", "prism temperature"),
    "photo": ("photo", "photos", "picture", "pictures", "image"),
    "note": ("note", "notes", "remark", "remarks", "comment", "comments"),
    NUMBER: ("fruit", "fruit no", "fruit number", "fruit id", "frt", "no", "nr", "number"),
    WHICH: ("reading", "measure", "measurement", "trait", "what", "measured"),
    "fruit measured": ("n", "fruit measured", "no fruit", "n fruit", "count", "number of fruit"),
    "mean size": ("mean size", "avg size", "average size", "mean dia", "mean diameter", "avg dia", "average diameter"),
    "sd size": ("sd size", "size sd", "sd dia", "sd diameter", "dia sd"),
    "mean firmness": ("mean firmness", "avg firmness", "average firmness", "mean pressure", "avg pressure"),
    "sd firmness": ("sd firmness", "firmness sd", "sd pressure", "pressure sd"),
    "mean sugar": ("mean sugar", "mean brix", "avg brix", "average brix", "mean ssc", "avg ssc", "average ssc"),
    "sd sugar": ("sd sugar", "sd brix", "brix sd", "ssc sd", "sd ssc"),
    "fruit type": ("fruit type", "type", "kind"),
    "flesh color": ("flesh", "flesh color"),
    "acidity class": ("acidity", "acid", "acidity class"),
    "shape type": ("shape type",),
    "stone": ("stone", "pit", "adherence", "freestone"),
    "status": ("status",),
}  # fmt: skip
_BY_WORD = {plain(word): role for role, words in SYNONYMS.items() for word in words} | {
    plain(role): role for role in (*ROLES, NUMBER, WHICH)
}

# How units are written in headings and behind figures.
_UNIT_WORDS = {
    '"': "in", "”": "in", "''": "in", "in": "in", "inch": "in", "inches": "in", "mm": "mm", "cm": "cm",
    "lb": "lbf", "lbs": "lbf", "lbf": "lbf", "pounds": "lbf", "kg": "kgf", "kgf": "kgf", "n": "n", "newton": "n", "newtons": "n",
    "c": "c", "°c": "c", "celsius": "c", "f": "f", "°f": "f", "fahrenheit": "f", "brix": "brix", "°brix": "brix", "bx": "brix", "°bx": "brix", "%": "pct", "pct": "pct", "percent": "pct", "per cent": "pct",
}  # fmt: skip
_AT_END = re.compile(r"^(.*?)[\s_]*[(\[,/ _]\s*(\"|”|''|[A-Za-z°%]+(?: cent)?)\.?\s*[)\]]?\s*$", re.DOTALL)


_KINDS = {
    "who, where, when": ("cultivar", "site", "date", "pick", "sample", NUMBER, WHICH, "as the row says"),
    "size": ("suture", "cross", "mean size", "sd size", "se size"),
    "firmness": ("firmness 1", "firmness 2", "mean firmness", "sd firmness", "se firmness"),
    "sugar": ("ssc", "juice temp", "mean sugar", "sd sugar", "se sugar"),
    "ratings": ("shape", "fuzz", "red", "attractiveness"),
    "shares": ("split pit", "cracked tip"),
    "beside them": ("fruit measured", "photo", "note", NOT_USED),
}
_FACTS = "facts of the cultivar"


def by_kind(words: Iterable[str]) -> dict[str, list[str]]:
    """Words for columns under what they are of, each kind in the order that it is measured in; other words under one kind."""
    found: dict[str, list[str]] = {}
    kind_of = {word: kind for kind, some in _KINDS.items() for word in some}
    for word in words:
        facts = word in ROLES and ROLES[word].table == "cultivars"
        found.setdefault(kind_of.get(word, _FACTS if facts else "one of"), []).append(word)
    order = [*_KINDS, _FACTS, "one of"]
    return {kind: found[kind] for kind in sorted(found, key=order.index)}


def unit_meant(mark: str, role: Role) -> str:
    """The unit that a mark behind a figure or in a heading stands for; "" where it is none of the role's."""
    suffix = _UNIT_WORDS.get(mark.strip().casefold().rstrip("."), "")
    if suffix == "pct" and role.column.quantity == "sugar":
        return "brix"  # a per cent of soluble solids and a degree Brix are one thing
    return suffix if suffix in QUANTITIES.get(role.column.quantity, ()) else ""


def unit_stated(heading: str, role: Role) -> str:
    """The unit at the end of a heading, whatever its other words; "" where none of the role's stands there."""
    found = _AT_END.match(heading.strip())
    return unit_meant(found[2], role) if found else ""


@lru_cache(maxsize=4096)
def offered(heading: str) -> tuple[str, str]:
    """The role that a heading's words are used for ("" where none is known), and the unit it states ("")."""
    unit, role = "", _BY_WORD.get(plain(heading), "")
    if found := _AT_END.match(heading.strip()):
        bare = _BY_WORD.get(plain(found[1]), "")
        stated = unit_meant(found[2], ROLES[bare]) if bare in ROLES else ""
        bracketed = f"({found[2]}" in heading or f"[{found[2]}" in heading
        if bare and (stated or (not role and bracketed)):
            role, unit = bare, stated
    if not role:
        for name, one in ROLES.items():  # a heading of the schema says all by itself
            for spelling, known in one.column.spellings.items():
                if plain(heading) == spelling and one.table != "means":
                    return name, known.suffix if known else ""
    return role, unit


def word(cell: str) -> bool:
    """Whether a column may be called so, without more ado."""
    return bool(cell) and not cell[0].isdigit() and len(cell) <= 40 and plain(cell) in _BY_WORD


def certain(heading: str) -> bool:
    """Whether a heading is the schema's own, so that nobody need be asked what it is."""
    name = plain(heading)
    return any(name in role.column.spellings for role in ROLES.values() if role.table == "samples")
