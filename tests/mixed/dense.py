"""The same model written out in full matrices, slowly: what the arrowhead must agree with."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.mixed.criterion import Model
from dashboard.mixed.design import Term


@dataclass
class Dense:
    """V, P and the rest at given variances, from the textbook formulas (Searle, Casella & McCulloch 1992, ch. 6)."""

    model: Model
    sigma: np.ndarray

    def __post_init__(self) -> None:
        records = self.model.records
        self.Z = [_effects(term)[term.code] * term.covariate[:, None] for term in self.model.random]
        fixed = [np.eye(len(term.levels))[term.code] for term in records.terms if term.fixed]
        self.X = np.hstack([records.X, *fixed])
        rows = len(records.y)
        self.parts = [Z @ Z.T for Z in self.Z]
        if records.sampled:
            self.parts.append(np.eye(rows))
        self.parts.append(np.diag(1 / records.n))
        self.V = sum(s * part for s, part in zip(self.sigma, self.parts, strict=True))
        self.Vi = np.linalg.inv(self.V)
        self.XVX = self.X.T @ self.Vi @ self.X
        self.P = self.Vi - self.Vi @ self.X @ np.linalg.solve(self.XVX, self.X.T @ self.Vi)

    @property
    def criterion(self) -> float:
        """-2 log restricted likelihood of the fruit (of the records, when single)."""
        records = self.model.records
        y, n = records.y, records.n
        freedom = records.total - self.X.shape[1]
        within = (
            (records.total - len(y)) * np.log(self.sigma[-1])
            + records.within_ss / self.sigma[-1]
            + np.log(n).sum()
        )
        dets = np.linalg.slogdet(self.V)[1] + np.linalg.slogdet(self.XVX)[1]
        return float(dets + within + y @ self.P @ y + freedom * np.log(2 * np.pi))

    @property
    def score(self) -> np.ndarray:
        records = self.model.records
        Py = self.P @ records.y
        score = np.array([-0.5 * (np.trace(self.P @ part) - Py @ part @ Py) for part in self.parts])
        inner = (records.total - len(records.y)) / self.sigma[-1] - records.within_ss / self.sigma[-1] ** 2
        score[-1] -= 0.5 * inner
        return score

    @property
    def information(self) -> np.ndarray:
        records = self.model.records
        Q = np.stack([part @ self.P @ records.y for part in self.parts], axis=1)
        information = Q.T @ self.P @ Q / 2
        information[-1, -1] += records.within_ss / (2 * self.sigma[-1] ** 3)
        return information

    @property
    def inverse(self) -> np.ndarray:
        """Error covariance of (fixed effects, then every random term): Henderson's mixed model equations, inverted."""
        W = np.hstack([self.X, *self.Z])
        records = self.model.records
        noise = self.sigma[-1] / records.n + (self.sigma[-2] if records.sampled else 0.0)
        C = W.T @ (W / noise[:, None])
        start = self.X.shape[1]
        for Z, s in zip(self.Z, self.sigma, strict=False):
            C[range(start, start + Z.shape[1]), range(start, start + Z.shape[1])] += 1 / s
            start += Z.shape[1]
        return np.linalg.inv(C)


def _effects(term: Term) -> np.ndarray:
    """(levels, draws) what the effect of each level is made of."""
    return np.eye(len(term.levels)) if term.kin is None else np.linalg.cholesky(term.kin.relationship)


def trial(seed: int, *, sampled: bool) -> dict:
    """A small unbalanced trial as arguments of ``checked``: a slope, nested and crossing terms, two columns of X."""
    random = np.random.default_rng(seed)
    rows = 90
    d = pd.DataFrame(
        {
            "c": random.integers(0, 11, rows),
            "s": random.integers(0, 3, rows),
            "y": random.integers(0, 4, rows),
        }
    )
    d["cs"], d["cy"], d["env"] = d["c"] * 3 + d["s"], d["c"] * 4 + d["y"], d["s"] * 4 + d["y"]
    age = random.normal(size=rows)
    groups = {"c": d["c"], "env": d["env"], "cs": d["cs"], "cy": d["cy"], "age": (d["c"], age)}
    effects = sum(random.normal(0, 1, d[name].max() + 1)[d[name]] for name in ("c", "env", "cs", "cy"))
    effects = effects + random.normal(0, 1, 11)[d["c"]] * age + 10
    asked = {"y": effects + random.normal(size=rows), "groups": groups}
    asked["X"] = np.column_stack([np.ones(rows), random.normal(size=rows)])
    if sampled:
        asked |= {"n": random.integers(1, 11, rows).astype(float), "within_ss": 300.0}
    return asked
