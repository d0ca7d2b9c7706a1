"""The facts of all sheets beside the records of the trial: one sample of one cultivar, site and day, whatever sheet it stood in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from dashboard.records.importing.as_written import Written
from dashboard.records.importing.bench import sample_name
from dashboard.records.importing.facts import Facts, no_facts
from dashboard.records.importing.figures import limited
from dashboard.records.importing.ledger import NOWHERE, Ledger
from dashboard.records.importing.limits import past_ends
from dashboard.records.importing.roles import ERRORS, ROLES
from dashboard.records.importing.spread import COUNT_THEM
from dashboard.records.importing.standing import Standing, pivoted
from dashboard.records.importing.trial import Coming, Trial
from dashboard.records.means import measured_alone, unweighable
from dashboard.records.names import plain
from dashboard.records.problems import quoted
from dashboard.records.schema import TABLES
from dashboard.records.writing import written

_KEYS = ("cultivar", "site", "date")
_COLUMN = {name: role.column.name for name, role in ROLES.items()}


@dataclass(frozen=True, eq=False)
class Joined:
    """What is to be written by table, and how many samples came in, of how many appearances."""

    coming: dict[str, Coming]
    samples: int
    appearances: int
    cells: pd.DataFrame  # sample, fruit (0: of the whole sample) and a cell of each figure that was read


def joined(parts: Sequence[Facts], trial: Trial, ledger: Ledger) -> Joined:
    """The new rows of each table; every cell of the facts is marked as read or set aside on the way."""
    seen, facts = _together(parts)
    seen = seen.assign(site=_by_key(seen["site"], trial))
    seen = seen.assign(name=_names(seen))
    lost = _other_keys(seen, trial)
    facts = _without(facts, seen, lost, ledger)
    facts["name"] = facts["appearance"].map(
        seen.drop_duplicates("appearance").set_index("appearance")["name"]
    )
    table_of = facts["role"].map(lambda role: ROLES[role].table).astype(object)
    coming: dict[str, Coming] = {}
    others: set[int] = set()
    limits = limited(facts["text"]) & (table_of == "fruit").to_numpy()
    for table, key in (("fruit", ["name", "fruit"]), ("means", ["name"])):
        part = facts[(table_of == table).to_numpy() & ~limits]
        if table == "means":
            part = _weighable(part, coming["fruit"], trial, ledger)
        coming[table], away = _numbers(table, key, part, trial, ledger)
        others |= away
    for number in sorted(others):
        codes = facts["code"][(facts["appearance"] == number).to_numpy()]
        name = seen["name"][(seen["appearance"] == number).to_numpy()].iloc[0]
        rule = f"is of another sample than the readings that stand under {quoted(str(name))}; the whole is set aside"
        ledger.aside(
            [*codes, *_key_codes(seen, number)], rule, "give the picks numbers, or each sample a name"
        )
    elsewhere = facts["appearance"].isin(list(others)).to_numpy()
    coming["beyond"] = past_ends(facts[limits & ~elsewhere], coming["fruit"], trial, ledger)
    kept = facts[~elsewhere]
    lost |= others
    left = seen[~seen["appearance"].isin(list(lost)).to_numpy()]
    picked = (seen["date"] != "").to_numpy()  # the others are of a list of cultivars
    coming["samples"] = _samples(left[(left["date"] != "").to_numpy()], kept, trial, ledger)
    coming["cultivars"] = _cultivars(left, kept, trial, ledger)
    coming["sites"] = _sites(coming["samples"], trial)
    for name in _KEYS:
        ledger.read(left[f"{name}@"].to_numpy())
    named = table_of.reindex(kept.index).isin(["samples", "fruit", "means"]).to_numpy()
    cells = kept[named].rename(columns={"name": "sample"})[["sample", "fruit", "code"]]
    return Joined(coming, len(coming["samples"].rows), seen["appearance"][picked].nunique(), cells)


def _together(parts: Sequence[Facts]) -> tuple[pd.DataFrame, pd.DataFrame]:
    """All blocks below each other, their appearances numbered through."""
    seen, facts, start = [], [], 0
    for part in parts:
        if not len(part.appearances):
            continue
        seen.append(part.appearances.assign(appearance=part.appearances["appearance"] + start))
        facts.append(part.facts.assign(appearance=part.facts["appearance"] + start))
        start += int(part.appearances["appearance"].max()) + 1
    if not seen:
        columns = [*_KEYS, "pick", "sample", *(f"{name}@" for name in _KEYS)]
        none = pd.DataFrame({name: pd.Series(dtype=object) for name in columns})
        none["appearance"] = pd.Series(dtype=int)
        return none, no_facts()
    whole = pd.concat(facts, ignore_index=True)
    return pd.concat(seen, ignore_index=True), whole


def _by_key(sites: pd.Series, trial: Trial) -> pd.Series:
    """A site that is called by its whole name is the site of that name, not another."""
    known = trial.frames["sites"]
    called = {
        plain(str(name)): key
        for key, name in zip(known["site"], known["name"], strict=True)
        if isinstance(name, str)
    }
    keys = set(known["site"])
    return sites.map(lambda site: site if site in keys else called.get(plain(site), site)).astype(object)


def _names(seen: pd.DataFrame) -> pd.Series:
    """A sample is called as its sheet calls it, else by site, day and cultivar, and its pick where that was written."""
    keys = zip(*(seen[name] for name in ("sample", "site", "date", "cultivar", "pick")), strict=True)
    made = [sample or sample_name(*of) for sample, *of in keys]
    return pd.Series(made, index=seen.index, dtype=object)


def _other_keys(seen: pd.DataFrame, trial: Trial) -> set[int]:
    """Appearances under a name that is of another cultivar, site or day, here or in the trial."""
    here = seen.drop_duplicates(["name", *_KEYS])
    shared = set(here["name"][here.duplicated("name", keep=False).to_numpy()])
    samples = trial.frames["samples"]
    standing = (
        samples.assign(date=samples["date"].dt.strftime("%Y-%m-%d"))
        .drop_duplicates("sample")
        .set_index("sample")
    )
    known = here[here["name"].isin(standing.index).to_numpy()]
    there = standing.reindex(known["name"])[list(_KEYS)]
    exact = ~known["date"].str.contains("W").to_numpy(dtype=bool)
    differ = (there.to_numpy() != known[list(_KEYS)].to_numpy()) & np.column_stack([exact | True, exact | True, exact])  # fmt: skip
    shared |= set(known["name"][differ.any(axis=1)])
    return {int(one) for one in seen["appearance"][seen["name"].isin(shared).to_numpy()].unique()}


def _without(facts: pd.DataFrame, seen: pd.DataFrame, lost: set[int], ledger: Ledger) -> pd.DataFrame:
    by = facts.groupby("appearance")["code"] if lost else None
    for number in sorted(lost):
        name = seen["name"][(seen["appearance"] == number).to_numpy()].iloc[0]
        codes: list[int] = by.get_group(number).tolist() if by is not None and number in by.groups else []
        rule = f"is of a sample {quoted(str(name))}, and that name is also of another cultivar, site or day"
        ledger.aside(
            [*_key_codes(seen, number), *codes], rule, "give each a name of its own, or leave the names out"
        )
    return facts[~facts["appearance"].isin(list(lost)).to_numpy()].copy()


def _key_codes(seen: pd.DataFrame, number: int) -> list[int]:
    rows = seen[(seen["appearance"] == number).to_numpy()]
    return [int(code) for name in _KEYS for code in rows[f"{name}@"]]


def _numbers(table: str, key: list[str], facts: pd.DataFrame, trial: Trial, ledger: Ledger) -> tuple[Coming, set[int]]:  # fmt: skip
    """Fruit or means: rows that are new, cells that were empty, and the appearances that turned out to be of other samples."""
    roles = [name for name, role in ROLES.items() if role.table == table and name not in ERRORS]
    columns = [_COLUMN[name] for name in roles]
    frame = trial.frames[table]
    names = ["sample", "fruit"] if table == "fruit" else ["sample"]
    held = frame.drop_duplicates(names).set_index(names)[columns].astype(float)
    if table == "fruit":
        held.index = pd.MultiIndex.from_arrays(
            [held.index.get_level_values(0).astype(object), held.index.get_level_values(1).astype(int)]
        )
    standing = Standing(held.set_axis(roles, axis=1), Written(table, trial, _COLUMN))
    away: set[int] = set()
    for part in _times(facts):
        values, codes = pivoted(part, roles, key, True, ledger)
        owner = part.drop_duplicates(key).set_index(key)["appearance"].reindex(values.index).to_numpy()
        away |= standing.join(values, codes, owner, ledger, whole=True)
    fresh = standing.values.iloc[standing.kept :]
    rows = fresh.set_axis(columns, axis=1).reset_index(names=names)
    if table == "fruit":  # fruit of one sample below each other
        rows = rows.iloc[np.lexsort((rows["fruit"], pd.factorize(rows["sample"])[0]))]
    row_of = dict(zip(held.index, frame.drop_duplicates(names).index, strict=True))
    filled = [(int(row_of[at]), _COLUMN[role], standing.values.at[at, role]) for at, role in standing.filled]
    return Coming(rows, filled), away


def _weighable(facts: pd.DataFrame, fruit: Coming, trial: Trial, ledger: Ledger) -> pd.DataFrame:
    """Means that can stand beside single fruit; what cannot be weighed is set aside."""
    away: set[int] = set()
    roles = [name for name, role in ROLES.items() if role.table == "means" and name not in ERRORS]
    singles = pd.concat([trial.frames["fruit"], fruit.rows])
    for part in _times(facts):
        values, codes = pivoted(part, roles, ["name"], True, ledger)
        frame = values.set_axis([_COLUMN[role] for role in roles], axis=1).assign(sample=values.index)
        cells = codes.set_axis(frame.columns[:-1], axis=1)
        uncounted = frame["n"].isna().to_numpy()
        ledger.uncounted |= set(map(str, values.index[uncounted]))
        for row in cells.to_numpy()[uncounted]:
            said = "is a mean, and nobody wrote of how many fruit, so it cannot be weighed", COUNT_THEM  # fmt: skip
            ledger.aside(row, *said)
            away |= set(row.tolist())
        for place, column, said in unweighable(frame, measured_alone(singles)):
            code = int(cells.iloc[place][column])
            ledger.aside([code], *said)
            away.add(code)
    return facts[~facts["code"].isin(away - {NOWHERE}).to_numpy()]


def _times(facts: pd.DataFrame) -> list[pd.DataFrame]:
    """The facts of the first appearance of each sample, of the second, and so on."""
    if not len(facts):
        return []
    order = facts.drop_duplicates(["name", "appearance"])
    time = pd.Series(order.groupby("name").cumcount().to_numpy(), index=order["appearance"].to_numpy())
    at = facts["appearance"].map(time).to_numpy()
    return [facts[at == number] for number in range(int(at.max()) + 1)]


def _samples(seen: pd.DataFrame, facts: pd.DataFrame, trial: Trial, ledger: Ledger) -> Coming:
    """One row a sample: whose it is, and what was judged of it."""
    roles = [name for name, role in ROLES.items() if role.table == "samples" and name not in (*_KEYS, "sample")]  # fmt: skip
    numeric = [name for name in roles if ROLES[name].column.kind in ("number", "whole")]
    words = [name for name in roles if name not in numeric]
    named = facts["role"] == "sample"
    ledger.read(facts["code"][named.to_numpy()].to_numpy())
    frame = trial.frames["samples"].drop_duplicates("sample")
    held = frame.set_index(frame["sample"].astype(object))
    ours = facts[facts["role"].isin(roles).to_numpy()]
    parts, filled = [], []
    for some, number in ((numeric, True), (words, False)):
        columns = [_COLUMN[name] for name in some]
        values = held[columns].astype(float) if number else held[columns].astype(object).fillna("")
        standing = Standing(values.set_axis(some, axis=1), Written("samples", trial, _COLUMN))
        for part in _times(ours[ours["role"].isin(some).to_numpy()]):
            found, codes = pivoted(part, some, ["name"], number, ledger)
            standing.join(found, codes, np.zeros(len(found), dtype=int), ledger, whole=False)
        parts.append(standing.values.iloc[standing.kept :].set_axis(columns, axis=1))
        row_of = dict(zip(held.index, frame.index, strict=True))
        filled += [
            (int(row_of[at]), _COLUMN[role], standing.values.at[at, role]) for at, role in standing.filled
        ]
    fresh = seen.drop_duplicates("name").set_index("name")
    fresh = fresh[~fresh.index.isin(held.index)]
    rows = (
        fresh[list(_KEYS)]
        .join(parts[0].reindex(fresh.index))
        .join(parts[1].reindex(fresh.index, fill_value=""))
    )
    return Coming(rows.rename_axis("sample").reset_index(), filled)


def _cultivars(seen: pd.DataFrame, facts: pd.DataFrame, trial: Trial, ledger: Ledger) -> Coming:
    """Cultivars that are new, and classes of those of which they were not known."""
    roles = [name for name, role in ROLES.items() if role.table == "cultivars"]
    frame = trial.frames["cultivars"].drop_duplicates("cultivar")
    columns = [_COLUMN[name] for name in roles]
    held = frame.set_index(frame["cultivar"].astype(object))[columns]
    kinds = TABLES["cultivars"].by_name
    text = {name: written(held[name], kinds[name]) for name in columns}
    for name in columns:  # what was never said of a cultivar is read as no
        if kinds[name].kind == "yes/no":
            text[name] = [one if one == "yes" else "" for one in text[name]]
    standing = Standing(pd.DataFrame(text, index=held.index, dtype=object).set_axis(roles, axis=1))
    owner = seen.drop_duplicates("appearance").set_index("appearance")["cultivar"]
    part = facts[facts["role"].isin(roles).to_numpy()]
    part = part.assign(cultivar=part["appearance"].map(owner))
    if len(part):
        values, codes = pivoted(part, roles, ["cultivar"], False, ledger)
        standing.join(values, codes, np.zeros(len(values), dtype=int), ledger, whole=False)
    fresh = pd.Index(seen["cultivar"].unique()).difference(held.index)
    rows = standing.values.set_axis(columns, axis=1).reindex(fresh, fill_value="").rename_axis("cultivar")
    row_of = dict(zip(held.index, frame.index, strict=True))
    filled = [(int(row_of[at]), _COLUMN[role], standing.values.at[at, role]) for at, role in standing.filled]
    for column in columns:
        if kinds[column].kind in ("number", "whole"):
            rows[column] = pd.to_numeric(rows[column], errors="coerce")
    return Coming(rows.reset_index(), filled)


def _sites(samples: Coming, trial: Trial) -> Coming:
    new = [
        site for site in dict.fromkeys(samples.rows["site"]) if site not in set(trial.frames["sites"]["site"])
    ]
    return Coming(pd.DataFrame({"site": pd.Series(new, dtype=object)}))
