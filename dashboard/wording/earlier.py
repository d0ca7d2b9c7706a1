"""What a value was before, in one line: value, until when, by whom, from which file."""

from __future__ import annotations

from datetime import datetime

from dashboard.records.earlier import Earlier
from dashboard.records.importing.roles import ROLES
from dashboard.records.not_used import plain
from dashboard.records.problems import quoted, seen
from dashboard.records.schema import TABLES, Column
from dashboard.ripening import date_label
from dashboard.terms.units import shown_in

_CALLED = {(role.table, role.column.name): name for name, role in ROLES.items()} | {("fruit", "ssc_brix"): "sugar"}  # fmt: skip
_DECIMALS = {"in": 2, "mm": 1, "lb": 1, "N": 1}
NONE = "No value of this sample was ever another one."


def told(one: Earlier, units: str) -> str:
    """Fruit 3, suture: was 2.49 in until import 7, Jul 14, 2025, by Ann, today.xlsx."""
    column = TABLES[one.table].by_spelling.get(plain(one.heading))
    called = _CALLED.get((one.table, column.name), one.heading) if column else one.heading
    where = f"Fruit {one.fruit}, {called}" if one.fruit else called[:1].upper() + called[1:]
    until = ", ".join(filter(None, (f"import {one.number}" if one.number else "", _day(one.at), f"by {one.who}" if one.who else "", one.file)))  # fmt: skip
    return seen(f"{where}: was {_value(one, column, units)} until {until}.")


def _value(one: Earlier, column: Column | None, units: str) -> str:
    """In the reader's unit; as it stood, where it is no figure."""
    try:
        figure = float(one.was)
    except ValueError:
        return quoted(one.was)
    unit = column.spellings[plain(one.heading)] if column else None
    if column is None or unit is None or column.rating:
        return one.was
    shown = shown_in(column.quantity, units)
    if shown is unit:
        return f"{one.was} {unit.symbol}"
    return f"{shown.from_si(unit.to_si(figure)):.{_DECIMALS.get(shown.symbol, 1)}f} {shown.symbol}"


def _day(at: str) -> str:
    """In this machine's own time."""
    try:
        return date_label(datetime.fromisoformat(at).astimezone().date())
    except ValueError:
        return at
