"""Winter chill by the hour: hours of cold, and units that weigh each hour by its temperature."""

from __future__ import annotations

import numpy as np

COLD_C = 7.2  # 45 °F
# Upper ends of the classes (in °C, included) and what an hour in each counts.
_UTAH = ((1.4, 2.4, 9.1, 12.4, 15.9, 18.0), (0.0, 0.5, 1.0, 0.5, 0.0, -0.5, -1.0))
UTAH_OPTIMUM_C = 9.1  # above it a warmer hour never counts more


def chill_hours(temperature: np.ndarray) -> np.ndarray:
    """Hours of cold, from 0 to 7.2 °C with both ends.

    Parameters
    ----------
    temperature : ndarray
        Hourly, °C, any shape.

    Returns
    -------
    ndarray
        The same shape: 1 or 0; NaN where the temperature is.

    Source
    ------
    Weinberger (1950), Proceedings of the American Society for Horticultural Science 56: 122-128, with the freezing point as lower end.
    """
    t = np.asarray(temperature, dtype=float)
    return np.where(np.isnan(t), np.nan, (t >= 0) & (t <= COLD_C))


def utah_units(temperature: np.ndarray, positive: bool = False) -> np.ndarray:
    """Utah chill units of each hour.

    Parameters
    ----------
    temperature : ndarray
        Hourly, °C, any shape.
    positive : bool
        Hours that take chill away count 0 (positive Utah units).

    Returns
    -------
    ndarray
        The same shape: -1 to 1; NaN where the temperature is.

    Source
    ------
    Richardson, Seeley & Walker (1974), HortScience 9: 331-332; positive units: Linsley-Noakes, Louw & Allan (1995), Journal of the
    Southern African Society for Horticultural Sciences 5: 16-22.
    """
    t = np.asarray(temperature, dtype=float)
    ends, weights = (np.array(part) for part in _UTAH)
    units = weights[np.searchsorted(ends, t, side="left")]  # a class holds its upper end
    return np.where(np.isnan(t), np.nan, np.maximum(units, 0) if positive else units)
