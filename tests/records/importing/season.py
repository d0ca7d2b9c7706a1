"""A small true season, and what of it a trial holds after sheets came in: every figure that stands there has to be the true one."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from dashboard.records import read
from dashboard.records.importing.incoming import Outcome, bring_in
from dashboard.records.importing.mapping import Question
from dashboard.records.importing.together import singly
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF

CULTIVARS = ("Alvane", "Brintel", "Corvale", "T 12-034", "Dusk Marrow")
FRUIT = 10
READINGS = ("suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix")
Key = tuple[str, str, str]  # cultivar, site, day


@dataclass
class Sample:
    """As it was written down: diameters in eighths of an inch, firmness in lb, sugar in degrees; ratings 0 to 10."""

    cultivar: str
    site: str
    day: date
    eighths: np.ndarray  # (fruit, 2)
    pounds: np.ndarray  # (fruit, 2)
    brix: np.ndarray  # (fruit,)
    ratings: dict[str, int] = field(default_factory=dict)

    @property
    def key(self) -> Key:
        return self.cultivar, self.site, self.day.isoformat()

    @property
    def si(self) -> np.ndarray:
        """(fruit, 5) in the order of READINGS."""
        return np.column_stack([self.eighths / 8 * MM_PER_INCH, self.pounds * N_PER_LBF, self.brix])


def season(
    weeks: int = 3, year: int = 2016, sites: tuple[str, ...] = ("Low",), seed: int = 1
) -> list[Sample]:
    """Every cultivar at every site each week."""
    chance = np.random.default_rng(seed)
    found = []
    for week in range(weeks):
        for site in sites:
            for cultivar in CULTIVARS:
                found.append(
                    Sample(
                        cultivar, site, date(year, 7, 5) + timedelta(days=7 * week),
                        chance.integers(17, 25, (FRUIT, 2)), chance.integers(40, 140, (FRUIT, 2)) / 10, chance.integers(90, 150, FRUIT) / 10,
                        {"red": int(chance.integers(3, 10)), "shape": int(chance.integers(3, 10))},
                    )
                )  # fmt: skip
    return found


@dataclass
class Replies:
    """Answers by the last step of a question's path, or by (heading or name, last step); what was asked is kept."""

    answers: dict[object, str]
    asked: list[Question] = field(default_factory=list)

    def __call__(self, question: Question) -> str:
        self.asked.append(question)
        if question.path[0] == "new_cultivars":  # each of the list is a cultivar of its own
            return "yes"
        *_, before, last = ("", *question.path)
        scale = ("scale",) if before == "scale" else ()  # one a year
        for key in ((before, last), last, *scale):
            if key in self.answers:
                return self.answers[key]
        assert question.offer, f"asked what nobody has an answer to: {question}"
        return question.offer

    @property
    def kinds(self) -> set[object]:
        return {question.path[-1] for question in self.asked}


def came_in(files: list[Path], trial: Path, answers: dict[object, str]) -> tuple[Outcome, Replies]:
    """The sheets brought in with these answers; what is told adds up."""
    replies = Replies({"tip_mm": "8", "temperature_compensated": "yes"} | answers)
    outcome = bring_in(files, trial, ask=singly(replies))
    assert outcome.counts, outcome.text
    adds_up(outcome)
    return outcome, replies


def adds_up(outcome: Outcome) -> None:
    counts = outcome.counts
    assert counts["filled"] == counts["read"] + counts["aside"] + counts["unused"]
    assert "not accounted for" not in outcome.text


def held(trial: Path) -> dict[Key, dict[int, np.ndarray]]:
    """By cultivar, site and day, and by fruit: the five readings in SI, NaN where nothing stands."""
    records = read(trial)
    assert not [problem for problem in records.problems if problem.severity == "error"]
    samples, fruit = records.tables["samples"].set_index("sample"), records.tables["fruit"]
    keys = {
        name: (row["cultivar"], row["site"], f"{row['date']:%Y-%m-%d}") for name, row in samples.iterrows()
    }
    assert len(set(keys.values())) == len(keys)
    found: dict[Key, dict[int, np.ndarray]] = {key: {} for key in keys.values()}
    for row in fruit.itertuples():
        found[keys[row.sample]][int(row.fruit)] = np.array([getattr(row, name) for name in READINGS])
    return found


def is_true(
    trial: Path, samples: list[Sample], missing: frozenset[tuple[Key, int, int]] = frozenset(), readings: range = range(5)
) -> None:  # fmt: skip
    """Every reading of every sample stands there as it was, but for those ``missing`` (sample, fruit, reading); and no other does."""
    there = held(trial)
    assert set(there) == {sample.key for sample in samples}
    for sample in samples:
        assert sorted(there[sample.key]) == list(range(1, FRUIT + 1)), sample.key
        for number in range(1, FRUIT + 1):
            for reading in readings:
                value, true = there[sample.key][number][reading], sample.si[number - 1, reading]
                if (sample.key, number, reading) in missing:
                    assert np.isnan(value), (sample.key, number, READINGS[reading])
                else:
                    np.testing.assert_allclose(value, true, rtol=1e-9, err_msg=f"{sample.key} {number} {READINGS[reading]}")  # fmt: skip
