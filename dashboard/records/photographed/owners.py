"""Whose a photograph is: by the code of its label, by the name of its file, or nobody's. It is never guessed."""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pandas as pd

from dashboard.records.importing.bench import sample_name
from dashboard.records.photos import PARTED
from dashboard.records.problems import listed, quoted

_FEW = 3  # names in a sentence
_BETWEEN = " _-(."  # what may follow a sample's name in that of a file


@dataclass
class Owners:
    """By what a label or file may say, the samples that are so called. ``written``: by sample the file names in its cell ``photo``."""

    called: Mapping[str, set[str]]
    loosely: Mapping[str, set[str]]  # where label or records do not say the pick
    written: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def by_code(self, codes: Sequence[str]) -> tuple[set[str], list[str]]:
        """The samples that the codes of a picture mean, and the codes that mean none."""
        found: set[str] = set()
        strange = []
        for code in map(_plain, codes):
            some = self.called.get(code) or self.loosely.get(code) or set()
            found |= some
            if not some:
                strange.append(code)
        return found, strange

    def by_name(self, name: str) -> set[str]:
        """The samples whose cell ``photo`` names the file, else those whose name it begins with; of two such names the longer."""
        if named := {sample for sample, names in self.written.items() if name in names}:
            return named
        stem = _plain(Path(name).stem).casefold()
        begun = [(_plain(sample).casefold(), sample) for sample in self.written]
        fits = [(start, sample) for start, sample in begun if stem.startswith(start) and (stem[len(start) :][:1] or " ") in _BETWEEN]  # fmt: skip
        longest = max((len(start) for start, _ in fits), default=0)
        return {sample for start, sample in fits if len(start) == longest}


def owners(samples: pd.DataFrame) -> Owners:
    """Of the checked table ``samples``. What the bench sheet would call a sample is one of its names, whatever it is called here."""
    called: dict[str, set[str]] = defaultdict(set)
    loosely: dict[str, set[str]] = defaultdict(set)
    written: dict[str, tuple[str, ...]] = {}
    rows = samples[["sample", "cultivar", "site", "date", "date_precision", "pick", "photo"]]
    for name, cultivar, site, date, precision, pick, photo in rows.itertuples(index=False):
        sample = str(name)
        called[_plain(sample)].add(sample)
        cell = "" if pd.isna(photo) else str(photo)
        written[sample] = tuple(one.strip() for one in cell.split(PARTED) if one.strip())
        if pd.isna(date) or not (pd.isna(precision) or precision == "day"):
            continue
        of_day = (str(site), f"{date:%Y-%m-%d}", str(cultivar))
        loosely[_plain(sample_name(*of_day, ""))].add(sample)
        if pd.isna(pick):
            for number in range(1, 10):
                loosely[_plain(sample_name(*of_day, str(number)))].add(sample)
        else:
            called[_plain(sample_name(*of_day, str(int(pick))))].add(sample)
    return Owners(called, loosely, written)


def whose(name: str, codes: Sequence[str], known: Owners) -> tuple[str, str]:
    """The sample of a photograph, "" for none; and by what it is told, or why it is not."""
    coded, strange = known.by_code(codes)
    named = known.by_name(name)
    unknown = f"its code {quoted(strange[0])} is of no sample here" if strange else ""
    if len(coded) > 1:
        return "", f"{_several('its code may be', coded)}; take the others out of the picture, or name it after its sample and cover the code"  # fmt: skip
    if len(named) > 1:
        return "", f"{_several('its name may be', named)}; name it after one sample"
    if coded and named and coded != named:
        return "", f"its code says {quoted(*coded)} and its name {quoted(*named)}; rename it, if the code is right"  # fmt: skip
    if coded:
        return next(iter(coded)), "by its code"
    if named:
        return next(iter(named)), "by its name" + (f"; {unknown}" if unknown else "")
    why = unknown or "no code was read in it"
    return "", f"{why}, and its name is that of no sample; import the sample first, or rename it after its sample"  # fmt: skip


def _several(begins: str, samples: set[str]) -> str:
    names = sorted(samples)
    more = [f"{len(names) - _FEW:,} others"] if len(names) > _FEW else []
    return f"{begins} that of {listed([*map(quoted, names[:_FEW]), *more])}"


def _plain(text: str) -> str:
    """One spelling of what looks the same."""
    return " ".join(unicodedata.normalize("NFC", text).split())
