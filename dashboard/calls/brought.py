"""What somebody brings along: a trait of their own, a table of their own, a market of their own, joined to the records.

The same asked twice is the same catalogue, so a notebook that is served works each out once for all its visitors.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any, Self

import numpy as np
import pandas as pd

from dashboard.answers.brought import with_facts, with_worth
from dashboard.answers.catalogue import Catalogue
from dashboard.answers.facts import ANSWERS, AT_LEAST, AT_MOST, Fact
from dashboard.answers.question import Question
from dashboard.calls.choices import CALLED, system
from dashboard.calls.choosing import OTHERS, PLAIN, with_own_market
from dashboard.calls.formulas import derived, values_of
from dashboard.calls.understood import AskError, plainly, several, shown, word
from dashboard.handout.asking import cultivar_named
from dashboard.records.names import nearest, plain
from dashboard.terms.traits import CLASSES, TRAITS, UNKNOWN
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import counted, listed

MOST_COLUMNS, MOST_ROWS = 40, 100_000
LONGEST = 60  # characters of a cell or a heading


class Bringing:
    """What is given more by a notebook; each call gives back another, and leaves its own as it was."""

    catalogue: Catalogue

    @plainly
    def with_trait(self, name: str, formula: str, units: str = "us") -> Self:
        """The records with a trait of your own among the others: in the list, in markets, with its error.

        Parameters
        ----------
        name, formula, units : str
            As ``derive`` takes them.

        Returns
        -------
        Records
            A limit or a wish may name it; it has no unit. ``ranking(columns=…)`` and the page's list can show it.

        Raises
        ------
        AskError
            A name or a formula that cannot be used, with the trait that is nearest.
        """
        return self._with(with_trait(self.catalogue, name, formula, system(units)))

    @plainly
    def with_table(self, table: Any, filters: Any = None) -> Self:
        """The records with a table of your own: its columns can be shown, and asked for as filters.

        Parameters
        ----------
        table : DataFrame, str or Path
            One row a cultivar, named in a column ``cultivar``; a data frame, or the path of a .csv file.
        filters : list, optional
            Columns that are filters; each of words without. One of numbers is asked for at most or at least: ``("days to root", "at most")``.

        Returns
        -------
        Records
            ``ask(virus_tested="yes")`` filters by a column ``virus tested``, and the page has a box for each of its words. Rows of
            no cultivar are left out, and ``problems`` tells them.

        Raises
        ------
        AskError
            A table or a column that cannot be used, with the nearest that is.
        """
        return self._with(with_table(self.catalogue, table, filters))

    @plainly
    def with_market(self, market: Any) -> Self:
        """The records with a market of your own among theirs, on the page too.

        Parameters
        ----------
        market : dict, str or Path
            Limits and wishes in the words of a profile's file, or the path of one.

        Returns
        -------
        Records

        Raises
        ------
        AskError
            Something that is no market.
        MarketError
            A market that cannot be used, with the word that is wrong.
        """
        return self._with(with_own_market(self.catalogue, market))

    def _with(self, catalogue: Catalogue) -> Self:
        return type(self)(catalogue)  # type: ignore[call-arg]


def with_trait(catalogue: Catalogue, name: Any, formula: Any, units: str) -> Catalogue:
    """The catalogue with a trait that a formula gives; AskError for a name or a formula that cannot be used."""
    worth = derived(catalogue, name, formula, units)  # which tells what is wrong with them
    if worth.trait not in catalogue.own_traits:
        _free(catalogue, worth.trait)
    return _with_trait(catalogue, name, " ".join(formula.split()), units)


@lru_cache(maxsize=16)
def _with_trait(catalogue: Catalogue, name: str, formula: str, units: str) -> Catalogue:
    return with_worth(
        catalogue, derived(catalogue, name, formula, units), values_of(catalogue, formula, units)
    )


def with_table(catalogue: Catalogue, table: Any, filters: Any) -> Catalogue:
    """The catalogue with the columns of a table, one row a cultivar; AskError for a table that cannot be used."""
    rows = _rows(table)
    ways = _ways(rows, filters)
    for name in rows.columns:
        if name not in catalogue.own_facts:
            _free(catalogue, name)
    return _with_table(catalogue, _Content(rows, tuple(sorted(ways.items()))))


class _Content:
    """A table and how its columns are asked for, the same as another of the same content."""

    def __init__(self, rows: pd.DataFrame, ways: tuple[tuple[str, str], ...]) -> None:
        self.rows, self.ways = rows, ways
        self._cells = tuple(map(tuple, rows.astype(object).where(rows.notna(), None).itertuples()))

    def _key(self) -> tuple[Any, ...]:
        return self.ways, tuple(self.rows.columns), self._cells

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Content) and self._key() == other._key()

    def __hash__(self) -> int:
        return hash(self._key())


@lru_cache(maxsize=16)
def _with_table(catalogue: Catalogue, content: _Content) -> Catalogue:
    rows, ways = content.rows, dict(content.ways)
    known = tuple(catalogue.cultivars.index)
    places: dict[str, Any] = {}
    strangers: list[str] = []
    for said in rows.index:
        try:
            name = cultivar_named(said, known)
        except ValueError:
            strangers.append(
                f"{shown(said)} (did you mean {near}?)" if (near := nearest(said, known)) else shown(said)
            )
            continue
        if name in places:
            raise AskError(f"Your table tells of {name} twice; leave one row of it.")
        places[name] = said
    told = rows.loc[list(places.values())].set_axis(list(places), axis=0).reindex(catalogue.cultivars.index)
    if not places:
        raise AskError(f"No row of your table names a cultivar of these records: {listed(strangers, 3)}.")
    facts = [_fact(name, told[name], ways.get(name)) for name in rows.columns]
    problems = [f"{counted(len(strangers), 'row')} of your own table left out, no cultivar of these records: {listed(strangers, 5)}."] if strangers else []  # fmt: skip
    return with_facts(catalogue, facts, problems)


def _rows(table: Any) -> pd.DataFrame:
    """By cultivar the columns of a data frame, or of a .csv file."""
    if isinstance(table, str | Path):
        table = _read(Path(table))
    if not isinstance(table, pd.DataFrame):
        raise AskError(f"A table is a data frame or the path of a .csv file, not {shown(table)}.")
    if len(table) > MOST_ROWS or len(table.columns) > MOST_COLUMNS + 1:
        raise AskError(
            f"A table of your own has at most {MOST_COLUMNS} columns and {MOST_ROWS:,} rows, one a cultivar."
        )
    rows = pd.DataFrame(table).rename(columns=lambda name: " ".join(str(name).split()))
    if rows.columns.duplicated().any():
        twice = rows.columns[rows.columns.duplicated()][0]
        raise AskError(f"Your table has two columns {shown(twice)}; give each a name of its own.")
    headed = [name for name in rows.columns if plain(name) == "cultivar"]
    if headed:
        rows = rows.set_index(headed[0])
    elif plain(str(rows.index.name or "")) != "cultivar":
        near = nearest("cultivar", rows.columns)
        hint = f"is it {near!r}?" if near else "name the one that holds them so."
        raise AskError(f"Your table has no column cultivar; {hint}")
    rows = rows[[isinstance(name, str) and bool(name.strip()) for name in rows.index]]
    if not len(rows) or not len(rows.columns):
        raise AskError("Your table is empty; it needs a row for each cultivar and a column beside the names.")
    return rows.set_axis(rows.index.astype(str), axis=0)


def _read(path: Path) -> pd.DataFrame:
    if path.suffix.lower() != ".csv":
        raise AskError(f"{path}: a table of your own is a .csv file; or give a data frame.")
    try:
        return pd.read_csv(path)
    except OSError as fault:
        raise AskError(f"{path}: cannot be read ({fault.strerror}); name a file that is there.") from None
    except (UnicodeDecodeError, pd.errors.ParserError, pd.errors.EmptyDataError):
        raise AskError(
            f"{path}: is no table with commas in UTF-8; save it so from your spreadsheet."
        ) from None


def _ways(rows: pd.DataFrame, filters: Any) -> dict[str, str]:
    """By column that is a filter how it is asked for: "" is by its words."""
    columns = {str(name): str(name) for name in rows.columns}
    if filters is None:
        return {name: "" for name in columns if not _numeric(rows[name])}
    if isinstance(filters, tuple) and len(filters) == 2 and filters[1] in (AT_MOST, AT_LEAST):
        filters = [filters]
    found: dict[str, str] = {}
    for one in several(filters, "filter"):
        name, way = one if isinstance(one, tuple | list) and len(one) == 2 else (one, "")
        name = word(name, columns, "column of your table")
        way = word(way, {AT_MOST: AT_MOST, AT_LEAST: AT_LEAST}, "way to ask") if way else ""
        if _numeric(rows[name]) != bool(way):
            hint = (
                f'write ("{name}", "{AT_MOST}") or ("{name}", "{AT_LEAST}")' if not way else f'write "{name}"'
            )
            raise AskError(f"The column {name} holds {'words' if way else 'numbers'}; {hint}.")
        found[name] = way
    return found


def _fact(name: str, column: pd.Series, way: str | None) -> Fact:
    if _numeric(column):
        values = column.to_numpy(dtype=float, na_value=np.nan)
        return Fact(name, np.where(np.isfinite(values), values, np.nan), way or "", asked=way is not None)
    words = [
        UNKNOWN if pd.isna(said) else ANSWERS.get(said, " ".join(str(said).split())[:LONGEST])
        for said in column
    ]  # type: ignore[call-overload]
    return Fact(name, np.array([one or UNKNOWN for one in words]), asked=way is not None)


def _numeric(column: pd.Series) -> bool:
    told = column.dropna()
    return (
        bool(len(told))
        and not told.map(lambda one: isinstance(one, bool)).any()
        and pd.api.types.is_numeric_dtype(told.infer_objects())
    )


def _free(catalogue: Catalogue, name: str) -> None:
    """AskError for a name that stands for something already, or cannot be one."""
    if not name.replace(" ", "_").isidentifier() or len(name) > LONGEST:
        raise AskError(
            f"A column's name is letters, digits and spaces, beginning with a letter, at most {LONGEST}, not {shown(name)}."
        )
    taken: set[str] = {*OTHERS, *PLAIN, *CALLED, *CALLED.values(), *CLASSES, *TRAITS, *COLUMNS}
    taken |= {trait.label for trait in TRAITS.values()} | {str(one.label) for one in COLUMNS.values()}
    taken |= {*map(str, Question(catalogue).ranking.columns), *catalogue.own_traits, *catalogue.own_facts}
    if plain(name) in set(map(plain, taken)):
        raise AskError(f"{shown(name)} stands for something else already; give yours another name.")
