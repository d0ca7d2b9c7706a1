"""Chill portions: the Dynamic Model, in which cold makes what warmth can undo until a portion of it is fixed.

Fishman, Erez & Couvillon (1987), Journal of Theoretical Biology 124: 473-483 and 126: 309-321, with the constants of Erez, Fishman,
Linsley-Noakes & Allan (1990), Acta Horticulturae 276: 165-174. The kelvin scale of the model begins at 273, not 273.15: its constants
were found so, and the other gives other portions.
"""

from __future__ import annotations

import numpy as np

SHEET, PAPER = "sheet", "paper"  # the two variants in use
_E0, _E1, _A0, _A1 = 4153.5, 12888.8, 139500.0, 2.567e18
_SLOPE, _FIXED_K, _ZERO_K = 1.6, 277.0, 273.0


def portions(temperature: np.ndarray, variant: str = SHEET) -> np.ndarray:
    """Portions fixed in each hour, all winters at once.

    Parameters
    ----------
    temperature : ndarray
        (…, hours) hourly, °C, in their order; each row begins without anything made. A NaN ends its row: what follows is NaN.
    variant : str
        "sheet" as in the spreadsheet that most requirements were found with: an hour is driven by its own temperature. "paper": by that
        of the hour before. They are the same at constant temperature; else they differ, by up to 5 %.

    Returns
    -------
    ndarray
        The same shape; 0 in an hour in which no portion was fixed.

    Raises
    ------
    ValueError
        Another variant.
    """
    if variant not in (SHEET, PAPER):
        raise ValueError(f"There is no variant {variant!r} of chill portions; there are {SHEET} and {PAPER}.")
    t = np.moveaxis(
        np.asarray(temperature, dtype=float), -1, 0
    )  # hours first: a step reads one line of memory
    if variant == PAPER:
        t = np.concatenate([t[:1], t[:-1]])
    kelvin = t + _ZERO_K
    level = _A0 / _A1 * np.exp((_E1 - _E0) / kelvin)
    stays = np.exp(-_A1 * np.exp(-_E1 / kelvin))
    # The same as r / (1 + r), which cannot overflow.
    fixed = 1 / (1 + np.exp(-_SLOPE * _FIXED_K * (kelvin - _FIXED_K) / kelvin))
    gained = np.zeros_like(kelvin)
    made = np.zeros(kelvin.shape[1:])
    for hour in range(1, len(kelvin)):
        left = np.where(made >= 1, made * (1 - fixed[hour - 1]), made)
        made = level[hour] - (level[hour] - left) * stays[hour]
        gained[hour] = np.where(made >= 1, made * fixed[hour], 0.0)
    gained[np.maximum.accumulate(np.isnan(kelvin), axis=0)] = np.nan
    return np.moveaxis(gained, 0, -1)
