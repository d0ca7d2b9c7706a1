"""Heat after winter, by the hour: growing degree hours, in the two forms in use."""

from __future__ import annotations

import numpy as np

CURVED, STRAIGHT = "curved", "straight"
_BASE, _BEST, _MOST = 4.0, 25.0, 36.0
_STRAIGHT_BASE = 4.5


def degree_hours(temperature: np.ndarray, form: str = CURVED) -> np.ndarray:
    """Growing degree hours of each hour.

    Parameters
    ----------
    temperature : ndarray
        Hourly, °C, any shape.
    form : str
        "curved": a rising cosine from 4 to 25 °C, a falling one to 36, 0 beyond. "straight": degrees over 4.5, at most 20.5, which holds
        above 25 °C, too.

    Returns
    -------
    ndarray
        The same shape, degree hours (°C h).

    Raises
    ------
    ValueError
        Another form.

    Source
    ------
    curved: Anderson, Richardson & Kesner (1986), Acta Horticulturae 184: 71-78; straight: Richardson, Seeley, Walker, Anderson & Ashcroft
    (1975), HortScience 10: 560-562.
    """
    t = np.asarray(temperature, dtype=float)
    if form == STRAIGHT:
        return np.clip(t, _STRAIGHT_BASE, _BEST) - _STRAIGHT_BASE
    if form != CURVED:
        raise ValueError(f"There is no form {form!r} of degree hours; there are {CURVED} and {STRAIGHT}.")
    whole = _BEST - _BASE
    rising = whole / 2 * (1 + np.cos(np.pi + np.pi * (np.clip(t, _BASE, _BEST) - _BASE) / whole))
    falling = whole * (
        1 + np.cos(np.pi / 2 + np.pi / 2 * (np.clip(t, _BEST, _MOST) - _BEST) / (_MOST - _BEST))
    )
    return np.where(np.isnan(t), np.nan, np.where(t <= _BEST, rising, falling))
