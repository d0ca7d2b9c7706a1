"""Small tasks of filling a season, made and solved by trying every set."""

from __future__ import annotations

import itertools

import numpy as np

from dashboard.ripening.filling import WORD, Filling, Quota, needed_seasons


def packed(picked: np.ndarray) -> np.ndarray:
    """(candidates, days, words) of True and False (candidates, days, seasons)."""
    count, days, seasons = picked.shape
    padded = np.zeros((count, days, -(-seasons // WORD) * WORD), dtype=bool)
    padded[:, :, :seasons] = picked
    return np.packbits(padded, axis=2).view(np.uint64)


def task(picked: np.ndarray, certainty: int, **more) -> Filling:
    seasons = picked.shape[2]
    needed = np.full(picked.shape[1], needed_seasons(certainty, seasons))
    return Filling(packed(picked), seasons, needed, **more)


def generated(number: int) -> tuple[np.ndarray, Filling]:
    """One of many small tasks: 4 to 12 candidates with windows that all seasons move and each moves alone; who is kept, a share and
    several at once in some of them."""
    random = np.random.default_rng(number)
    count, days, seasons = (
        int(random.integers(4, 13)),
        int(random.integers(3, 15)),
        int(random.integers(5, 90)),
    )
    first = (
        random.uniform(-3, days, (count, 1))
        + random.normal(0, 2, seasons)
        + random.normal(0, 1, (count, seasons))
    )
    last = first + random.uniform(2, 7, (count, 1))
    day = np.arange(days)[:, None]
    picked = (first[:, None] <= day) & (day <= last[:, None])
    more: dict = {
        "worth": random.random(count),
        "least": int(random.integers(1, 3)) if number % 4 == 0 else 1,
    }
    if number % 5 == 0:
        more["kept"] = (int(random.integers(count)),)
    if number % 7 == 0:
        members = tuple((random.random(count) < 0.6).tolist())
        more["quotas"] = (Quota(members, 1 / 3),)
    return picked, task(picked, int(random.integers(6, 10)), **more)


def most_days_by_trying(picked: np.ndarray, asked: Filling) -> int:
    """How many of the possible days a set of at most ``most``, with who is kept, covers at the best; shares do not count."""
    sets = np.array(list(itertools.product((False, True), repeat=len(picked))))
    sets = sets[(sets.sum(axis=1) <= asked.most) & sets[:, list(asked.kept)].all(axis=1)]
    enough = (np.tensordot(sets.astype(np.int16), picked.astype(np.int16), axes=1) >= asked.least).sum(axis=2)
    return int((enough >= asked.needed)[:, asked.possible].sum(axis=1).max())


def fewest_by_trying(picked: np.ndarray, asked: Filling) -> int | None:
    """The size of the smallest set that covers every possible day, keeps who is kept and has the shares; None where none does."""
    count = len(picked)
    sets = np.array(list(itertools.product((False, True), repeat=count)))
    right = sets[:, list(asked.kept)].all(axis=1)
    at_once = np.tensordot(sets.astype(np.int16), picked.astype(np.int16), axes=1)
    enough = (at_once >= asked.least).sum(axis=2)
    possible = enough[-1] >= asked.needed
    right &= (enough[:, possible] >= asked.needed[possible]).all(axis=1)
    for quota in asked.quotas:
        right &= sets @ np.array(quota.members, dtype=int) >= quota.share * sets.sum(axis=1) - 1e-9
    return int(sets[right].sum(axis=1).min()) if right.any() else None
