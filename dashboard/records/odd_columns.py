"""Days on which two columns of fruit were typed in each other's place.

Each sample is weighed both ways: as it stands, and exchanged. What speaks for the exchange, as a log of how many times likelier it is, is added up
over the samples of a day at a site. Limits without a source are judgement, tried on the invented trial.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.records.findings import Findings
from dashboard.records.problems import quoted
from dashboard.terms.units import N_PER_KGF, N_PER_LBF

OF_CULTIVAR = 4  # samples of a cultivar, from which on its usual reading is known
SURELY = 15.0  # log of how many times likelier: three million times, for some thousand days looked at
MOST = 8.0  # that one sample counts for
_SPREAD = {
    "shape": 0.01,
    "firmness": 0.25,
    "sugar": 1.2,
}  # of a sample about its cultivar, at least; two are logarithms
_FORCES = {"newtons": 1.0, "pounds-force": N_PER_LBF, "kilograms-force": N_PER_KGF}


def suspect_columns(fruit: pd.DataFrame, samples: pd.DataFrame, findings: Findings) -> None:
    """Flag days whose suture and cross diameters, or sugar and firmness, fit their cultivars only when they are exchanged."""
    if not len(fruit) or not len(samples):
        return
    known = samples.assign(day=samples["date"].dt.strftime("%Y-%m-%d"))
    by_sample = fruit.groupby("sample")
    means = by_sample[["suture_mm", "cross_mm", "firmness_1_n", "firmness_2_n", "ssc_brix"]].mean()
    shape = pd.Series(np.log(known["sample"].map(means["suture_mm"] / means["cross_mm"]).astype(float)))
    _tell(_diameters(known, shape), known, fruit, "suture, cross", findings)
    firmness = (means["firmness_1_n"] + means["firmness_2_n"]) / 2
    firm, sugar = (
        known["sample"].map(firmness[(firmness > 0).to_numpy()]),
        known["sample"].map(means["ssc_brix"]),
    )
    for force in _FORCES.values():
        told = _tell(
            _sugar_and_firmness(known, firm, sugar, force), known, fruit, "ssc_brix, firmness", findings
        )
        if told:  # of one day once, in the unit that shows it first
            return


def _diameters(samples: pd.DataFrame, shape: pd.Series) -> pd.Series:
    """(samples,) what speaks for an exchange: then the log of suture to cross changes its sign."""
    usual, count = _usual(samples, shape)
    spread = max(_SPREAD["shape"], 1.4826 * float((shape - usual).abs().median()))
    return (-2 * shape * usual / spread**2).where(count >= OF_CULTIVAR)


def _sugar_and_firmness(samples: pd.DataFrame, firm: pd.Series, sugar: pd.Series, force: float) -> pd.Series:
    """(samples,) what speaks for an exchange, if firmness was written in a unit of ``force`` newtons."""
    log_firm = np.log(firm)
    usual_firm, count = _usual(samples, log_firm)
    usual_sugar, _ = _usual(samples, sugar)
    as_it_stands = _far(log_firm, usual_firm, "firmness") + _far(sugar, usual_sugar, "sugar")
    exchanged = _far(np.log(sugar.where(sugar > 0) * force), usual_firm, "firmness") + _far(firm / force, usual_sugar, "sugar")  # fmt: skip
    return ((as_it_stands - exchanged) / 2).where(count >= OF_CULTIVAR)


def _usual(samples: pd.DataFrame, values: pd.Series) -> tuple[pd.Series, pd.Series]:
    grouped = values.groupby(samples["cultivar"])
    return grouped.transform("median"), grouped.transform("count")


def _far(values: pd.Series, usual: pd.Series, name: str) -> pd.Series:
    return ((values - usual) / _SPREAD[name]) ** 2


def _tell(
    speaks: pd.Series, samples: pd.DataFrame, fruit: pd.DataFrame, columns: str, findings: Findings
) -> int:
    """Flag the days on which it is all but sure; gives back how many."""
    speaks = speaks.clip(-MOST, MOST).dropna()
    there = samples.loc[speaks.index]
    sums = speaks.groupby(there["site"].astype(str) + "\x1f" + there["day"]).agg(["sum", "size"])
    sure = sums[(sums["sum"] >= SURELY).to_numpy()]
    one, other = columns.split(", ")
    for place, count in sure["size"].to_dict().items():
        site, day = str(place).split("\x1f")
        here = there.loc[((there["site"] == site) & (there["day"] == day)).to_numpy(), "sample"]
        first = int(fruit.index[fruit["sample"].isin(here).to_numpy()][0])
        findings.flag(
            first, columns, f"{count:.0f} samples", f"of {quoted(site)} on {day} fit their cultivars only with {one} and {other} exchanged",
            "look whether the two columns were typed in each other's place",
        )  # fmt: skip
    return len(sure)
