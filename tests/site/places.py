"""Invented stations: a smooth year with weather on it."""

from __future__ import annotations

import numpy as np
import pandas as pd

from dashboard.site.station import Station, station


def weather(
    first: str = "2000-10-01",
    last: str = "2025-10-31",
    *,
    mean: float = 19.5,
    swing: float = 9.0,
    seed: int = 1,
    south: bool = False,
) -> pd.DataFrame:
    """Days with a lowest and a highest; warm winters at the usual mean and swing."""
    rng, days = np.random.default_rng(seed), pd.date_range(first, last)
    summer = -np.cos(2 * np.pi * (days.day_of_year.to_numpy() - 20) / 365.25) * (-1 if south else 1)
    noise = pd.Series(rng.normal(0, 3.5, len(days))).ewm(alpha=0.4).mean().to_numpy() * 1.5
    middle = mean + swing * summer + noise
    half = np.clip(rng.normal(6, 1.5, len(days)), 1, 10)
    return pd.DataFrame(
        {"date": days, "tmin_c": (middle - half).round(1), "tmax_c": (middle + half).round(1)}
    )


def place(name: str = "Warm Flat", latitude: float = 33.0, elevation: float = 100.0, **more) -> Station:
    return station(weather(south=latitude < 0, **more), name, latitude, elevation)
