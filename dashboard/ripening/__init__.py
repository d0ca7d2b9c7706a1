"""When cultivars ripen: what was seen (``seen``), what is to be expected (``model``), and days written as dates (``days``)."""

from dashboard.ripening.days import (
    axis_days,
    date_label,
    day_label,
    day_of,
    half_label,
    half_span,
    month_first,
    of_calendar,
    picked_label,
    written_for,
)
from dashboard.ripening.seen import (
    BANDS,
    METHOD,
    days_without,
    halves,
    main_check,
    picks,
    ripening_band,
    season_of,
    windows,
)

__all__ = [
    "BANDS", "METHOD", "axis_days", "date_label", "day_label", "day_of", "days_without", "half_label", "half_span", "halves", "main_check", "month_first", "of_calendar", "picked_label", "picks",
    "ripening_band", "season_of", "windows", "written_for",
]  # fmt: skip
