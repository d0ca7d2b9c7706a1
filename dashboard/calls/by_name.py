"""A data frame that tells in a sentence, with the nearest there is, which row or column it has not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pandas as pd

from dashboard.calls.understood import NoNameError


class ByName(pd.DataFrame):
    """Rows and columns are taken by their names, as in any data frame."""

    def __getitem__(self, key: Any) -> Any:
        """As a data frame; a column that is not there is told in a sentence, with the nearest that is."""
        with self._told(columns=key):
            return super().__getitem__(key)

    def sort_values(self, by: Any, *more: Any, **named: Any) -> Any:  # type: ignore[override]
        """The same of what rows are sorted by."""
        with self._told(columns=by):
            return super().sort_values(by, *more, **named)

    @property
    def loc(self) -> Any:
        """The same of rows by their names."""
        return _Rows(super().loc, self._told)

    def __getattr__(self, name: str) -> Any:  # type: ignore[misc]  # so typed lest a column be declared; here none is
        try:
            return super().__getattr__(name)
        except AttributeError:
            if name.startswith("_"):
                raise
            raise self._no_column(name) from None

    @contextmanager
    def _told(self, rows: Any = (), columns: Any = ()) -> Iterator[None]:
        """A KeyError within as a sentence on the first of these names that is not there."""
        try:
            yield
        except KeyError:
            for said in (one for one in _each(rows) if one not in self.index):
                raise NoNameError(said, str(self.index.name or "row"), self.index) from None
            every = _each(columns)
            missing = [one for one in every if one not in self.columns]
            if not every:  # the end of a span
                raise
            raise self._no_column((missing or every)[0]) from None

    def _no_column(self, said: Any) -> NoNameError:
        """By name, and by what stands over it where it is shown."""
        known = self.attrs.get("headings", {})
        return NoNameError(said, "column", self.columns, {str(one[0]): name for name, one in known.items() if name in self.columns})  # fmt: skip


class _Rows:
    """What pandas takes rows out with, by their names: told in a sentence where one is not there."""

    def __init__(self, at: Any, told: Callable[..., Any]) -> None:
        self._at, self._told = at, told

    def __getitem__(self, key: Any) -> Any:
        rows, columns = key if isinstance(key, tuple) and len(key) == 2 else (key, ())
        with self._told(rows, columns):
            return self._at[key]

    def __setitem__(self, key: Any, value: Any) -> None:
        self._at[key] = value

    def __call__(self, *more: Any, **named: Any) -> Any:
        return self._at(*more, **named)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._at, name)


def _each(said: Any) -> list[Any]:
    """The names among what rows or columns are taken out by."""
    if isinstance(said, list | tuple | pd.Index):
        return list(said)
    return [] if isinstance(said, slice | pd.Series | pd.DataFrame) else [said]
