"""Fruit of a plain file gathered by their samples: as they follow each other, or laid together where those of one stand apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.store.judging import MOST_FRUIT, Piece


@dataclass(eq=False)
class Samples:
    """As they come: each has the bytes from ``starts`` to ``ends``, and ``counts`` lines."""

    names: list[str]
    starts: np.ndarray  # (samples,) int
    ends: np.ndarray
    counts: np.ndarray
    odd: np.ndarray  # (samples,) bool: has a row that the ordinary way has to look at


@dataclass(eq=False)
class Some(Samples):
    """Those of one piece."""

    letters: np.ndarray  # (bytes,) uint8
    first: np.ndarray  # the numbers of the fruit of the first sample
    last: np.ndarray  # and of the last

    def __len__(self) -> int:
        return int(self.counts.sum())


def samples(piece: Piece) -> Some:
    firsts, numbers = piece.firsts, piece.numbers
    counts = np.diff(firsts, append=len(piece.starts))
    odd = np.logical_or.reduceat(piece.odd, firsts) | _twice(numbers, firsts, counts) | _nameless(piece.names)
    return Some(
        piece.names, piece.starts[firsts], piece.ends[firsts + counts - 1], counts, odd, piece.letters,
        numbers[: counts[0]].copy(), numbers[firsts[-1] :].copy(),
    )  # fmt: skip


def joined(pieces: Sequence[Some], at: int) -> Samples:
    """Pieces behind each other, the first of them at the byte ``at``; a sample may begin in one and end in another."""
    kept: list[Some] = []
    names: list[str] = []
    for one in pieces:
        one.starts, one.ends, at = one.starts + at, one.ends + at, at + len(one.letters)
        if names[-1:] == one.names[:1]:
            before = kept[-1]
            before.last = np.append(before.last, one.first)
            before.ends[-1], before.counts[-1] = one.ends[0], before.counts[-1] + one.counts[0]
            before.odd[-1] |= one.odd[0] | (len(np.unique(before.last)) < len(before.last))
            if len(one.names) == 1:
                continue
            one.names = one.names[1:]
            one.starts, one.ends, one.counts, one.odd = (
                one.starts[1:],
                one.ends[1:],
                one.counts[1:],
                one.odd[1:],
            )
        names += one.names
        kept.append(one)
    parts = ([getattr(one, name) for one in kept] for name in ("starts", "ends", "counts", "odd"))
    return Samples(names, *map(np.concatenate, parts))


def laid_together(pieces: Sequence[Piece]) -> tuple[bytes, Samples, np.ndarray]:
    """Fruit of a sample that stand apart: their lines anew, the samples in those, and (lines,) where in the file each line stood."""
    names = np.array([name for one in pieces for name in one.names], dtype=object)
    counts = np.concatenate([np.diff(one.firsts, append=len(one.starts)) for one in pieces])
    which, unique = pd.factorize(names)
    codes = np.repeat(which, counts)
    order = np.argsort(codes, kind="stable")
    lines = [line for one in pieces for line in one.letters.tobytes().splitlines(keepends=True)]
    raw = b"".join([lines[place] for place in order.tolist()])
    lengths = np.concatenate([one.ends - one.starts for one in pieces])[order]
    numbers, odd = (np.concatenate([getattr(one, name) for one in pieces])[order] for name in ("numbers", "odd"))  # fmt: skip
    counts = np.bincount(codes)
    firsts = np.cumsum(counts) - counts
    ends = np.cumsum(lengths)
    whole = Piece(
        np.frombuffer(raw, dtype=np.uint8), ends - lengths, ends, firsts, unique.tolist(), numbers, odd
    )
    return raw, samples(whole), order


def _twice(numbers: np.ndarray, firsts: np.ndarray, counts: np.ndarray) -> np.ndarray:
    """(samples,) bool: a number of a fruit stands in it more than once."""
    grows = np.diff(numbers) > 0
    grows[firsts[1:] - 1] = True  # a sample begins anew
    if grows.all():
        return np.zeros(len(counts), dtype=bool)
    codes = np.repeat(np.arange(len(counts)), counts)
    keys = np.sort(codes * (MOST_FRUIT + 1) + numbers)
    return np.bincount(keys[1:][np.diff(keys) == 0] // (MOST_FRUIT + 1), minlength=len(counts)) > 0


def _nameless(names: list[str]) -> np.ndarray:
    return np.array([not name for name in names]) if "" in names else np.zeros(len(names), dtype=bool)
