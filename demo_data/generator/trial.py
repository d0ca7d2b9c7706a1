"""The trial as it ran: who stood where in which season, when each block was walked, what was picked and pulled."""

from __future__ import annotations

import numpy as np
import pandas as pd

from generator.classes import CHECK_DAYS, NEVER
from generator.fruit import Surroundings, measured

SITES = ("maravel", "tessock", "ondry")
SITE_SHIFT_DAYS = (0.0, -4.0, 3.0)  # the southern block ripens first, the high one last
WALK_WEEKDAYS = ((1, 4), (0, 3), (2, 5))  # Monday is 0; the second walk only in the full season
FULL_SEASON = (158, 252)  # days of the year with two walks a week
PICK_SHARES = (0.12, 0.28, 0.40, 0.20)  # 1, 2, 3, 4 picks
LOST = 0.04  # cultivars a season whose fruit was lost before it was picked
YEAR_SHIFT_SD, SITE_YEAR_SD, OWN_SITE_SD, OWN_YEAR_SD, OWN_CELL_SD = 6.0, 1.5, 1.2, 1.5, 1.0


class Trial:
    """Seasons played one after the other, so that what is pulled out depends on what was observed."""

    def __init__(
        self, rng, cultivars: pd.DataFrame, days, entry, truth, lateness, seasons: list[int], own: int
    ):
        self.rng, self.cultivars, self.days, self.truth, self.seasons = rng, cultivars, days, truth, seasons
        count, sites = len(cultivars), len(SITES)
        checks = np.arange(count) < len(CHECK_DAYS)
        # First and last bearing season at each site; NEVER where the cultivar is not planted.
        self.first = np.full((sites, count), NEVER)
        self.first[0, : count - own] = entry[: count - own]
        self.first[1:, checks] = entry[checks]
        self.last = np.full((sites, count), NEVER)
        stay = rng.integers(4, 8, (sites, count))
        old = np.clip(seasons[0] + rng.integers(0, 5, count), entry, None)  # had part of its stay before 2016
        planned = np.where(self.first[0] <= seasons[0], old, self.first[0] + stay[0] - 1)
        self.last[0] = np.where(self.first[0] < NEVER, planned, NEVER)
        self.stay = stay
        self.checks = checks
        for number in range(count - own, count):
            self._plant(1 + number % 2, np.array([number]), entry[number])
        shift = YEAR_SHIFT_SD * _standard(0.75 * lateness + 0.66 * rng.normal(size=len(seasons)))
        at_site = rng.normal(0, SITE_YEAR_SD, (sites, len(seasons))) + shift
        self.shift = at_site + np.array(SITE_SHIFT_DAYS)[:, None]
        self.own_shift = (
            rng.normal(0, OWN_SITE_SD, (count, sites, 1))
            + rng.normal(0, OWN_YEAR_SD, (count, 1, len(seasons)))
            + rng.normal(0, OWN_CELL_SD, (count, sites, len(seasons)))
        )
        self.around = Surroundings(rng, count, sites, len(seasons))
        self.seen = np.zeros((sites, count), int)
        self.score_sum = np.zeros((sites, count))

    def _plant(self, site: int, numbers: np.ndarray, season: int) -> None:
        self.first[site, numbers] = season
        self.last[site, numbers] = season + self.stay[site, numbers] - 1

    def present(self, site: int, season: int) -> np.ndarray:
        """Numbers of the cultivars bearing at the site in the season."""
        standing = (self.first[site] <= season) & (season <= self.last[site])
        return np.flatnonzero(standing | self.checks)

    def played(self) -> tuple[pd.DataFrame, pd.DataFrame]:
        """(samples, fruit) of all seasons, numbered in the order they were picked."""
        all_samples, all_fruit, done = [], [], 0
        size = len(self.present(0, self.seasons[0]))
        self._stock_blocks(self.seasons[0], round(0.25 * size))
        self._stock_blocks(self.seasons[0] + 1, max(1, round(0.052 * size)))
        for index, season in enumerate(self.seasons):
            picks = pd.concat([self._picks(site, index) for site in range(len(SITES))], ignore_index=True)
            picks = picks.sort_values(["date", "site_number", "number"], kind="stable", ignore_index=True)
            samples, fruit = measured(self.rng, picks, self.truth, self.around)
            samples["sample"] = [f"S{done + row + 1:05d}" for row in range(len(samples))]
            fruit["sample"] = samples["sample"].to_numpy()[fruit["row"]]
            done += len(samples)
            all_samples.append(samples)
            all_fruit.append(fruit)
            self._judge(samples, fruit, season)
            self._stock_blocks(season + 2, max(1, round(0.052 * size)))
        return pd.concat(all_samples, ignore_index=True), pd.concat(all_fruit, ignore_index=True)

    def _picks(self, site: int, index: int) -> pd.DataFrame:
        season = self.seasons[index]
        walks = self._walks(site, season)
        rows = []
        for number in self.present(site, season):
            if self.rng.random() < LOST and not self.checks[number]:
                continue
            middle = self.days[number] + self.shift[site, index] + self.own_shift[number, site, index]
            wanted = int(self.rng.choice(4, p=PICK_SHARES)) + 1
            taken = _walks_around(walks, middle, wanted)
            late = np.mean(taken) - middle
            rows += [(number, site, index, day, pick, late) for pick, day in enumerate(taken, start=1)]
        columns = ["number", "site_number", "season_number", "day", "pick", "late_days"]
        picks = pd.DataFrame(rows, columns=columns)
        picks["date"] = pd.Timestamp(season, 1, 1) + pd.to_timedelta(picks["day"] - 1, unit="D")
        return picks

    def _walks(self, site: int, season: int) -> np.ndarray:
        """Days of the year on which the site was walked; rain keeps people out of the blocks now and then."""
        weekday = (pd.Timestamp(season, 1, 1).weekday() + np.arange(365)) % 7
        day = np.arange(1, 366)
        once, twice = WALK_WEEKDAYS[site]
        full = (day >= FULL_SEASON[0]) & (day <= FULL_SEASON[1])
        walks = day[(day >= 128) & (day <= 275) & ((weekday == once) | ((weekday == twice) & full))]
        return walks[self.rng.random(len(walks)) >= (0.0 if site == 0 else 0.06)]

    def _judge(self, samples: pd.DataFrame, fruit: pd.DataFrame, season: int) -> None:
        """Pull out what was observed to be poor, once it has been seen twice (three times in a block)."""
        means = fruit.assign(size=fruit["suture_mm"] + fruit["cross_mm"]).groupby("sample")[
            ["size", "ssc_brix"]
        ]
        judged = samples.merge(means.mean(), left_on="sample", right_index=True)
        cells = judged.groupby(["site_number", "number"])[["size", "ssc_brix", "attractiveness"]].mean()
        here = cells.groupby(level=0)
        score = ((cells - here.transform("mean")) / here.transform("std")).fillna(0).mean(axis=1)
        for (site, number), value in score.items():
            self.seen[site, number] += 1
            self.score_sum[site, number] += value
        for site, seen_at_least, share in ((0, 3, 0.27), (1, 3, 0.08), (2, 3, 0.08)):
            numbers = self.present(site, season)
            numbers = numbers[(self.seen[site, numbers] >= seen_at_least) & ~self.checks[numbers]]
            if len(numbers) == 0:
                continue
            mean = self.score_sum[site, numbers] / self.seen[site, numbers]
            self.last[site, numbers[mean <= np.quantile(mean, share)]] = season

    def _stock_blocks(self, season: int, entries: int) -> None:
        """Growers take on some of what has looked good at the station so far (anything, before it was seen)."""
        if season > self.seasons[-1]:
            return
        known = self.present(0, min(season, max(self.seasons[0], season - 2)))
        for site in (1, 2):
            open_to = known[self.first[site, known] == NEVER]
            mean = self.score_sum[0, open_to] / np.maximum(self.seen[0, open_to], 1)
            liked = open_to[mean >= np.median(mean)] if len(open_to) else open_to
            self._plant(site, self.rng.permutation(liked)[:entries], season)


def _standard(values: np.ndarray) -> np.ndarray:
    return (values - values.mean()) / values.std()


def _walks_around(walks: np.ndarray, middle: float, wanted: int) -> np.ndarray:
    """The run of walks whose mean is nearest the middle; never longer than two weeks."""
    for length in range(wanted, 0, -1):
        runs = np.lib.stride_tricks.sliding_window_view(walks, length)
        run = runs[np.argmin(np.abs(runs.mean(axis=1) - middle))]
        if run[-1] - run[0] <= 14:
            return run
    raise ValueError("no walk in the season")
