"""Daily temperatures at the three invented sites, and the bloom they bring.

A mid-latitude stone-fruit climate (about 39.5 degrees north): January near freezing, July near 24 degrees C,
a slight warming, warm and cold months that the sites share. The figures are assumptions, not measurements.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

FIRST_DAY, LAST_DAY = "2000-10-01", "2025-10-31"
# Warmer than the station by day and by night (degrees C): the low southern block is where cold air pools at
# night, from the high one it drains away.
SITE_OFFSETS = {"maravel": (0.0, 0.0), "tessock": (1.4, -0.5), "ondry": (-1.4, 0.2)}
BASE_C = 4.5  # warmth below this brings bloom no nearer
BLOOM_HEAT = 125.0  # degree-days over BASE_C from 1 February to full bloom of an ordinary cultivar
WARM_WINTERS = 8.0  # degrees by which January is milder than July is hotter, at the invented warmer place
KILL_10_C, KILL_90_C = -2.8, -4.4  # full bloom, 10 % and 90 % of flowers; Penn State Extension table


def _autocorrelated(rng: np.random.Generator, size: int, phi: float) -> np.ndarray:
    """A series with mean 0, SD 1 in which each day remembers ``phi`` of the day before."""
    noise = rng.normal(0, np.sqrt(1 - phi**2), size)
    series = np.empty(size)
    series[0] = rng.normal()
    for day in range(1, size):
        series[day] = phi * series[day - 1] + noise[day]
    return series


def daily_temperatures(rng: np.random.Generator) -> pd.DataFrame:
    """One row a site and day: site, date, tmin_c, tmax_c (0.1 degree)."""
    dates = pd.date_range(FIRST_DAY, LAST_DAY)
    day = dates.dayofyear.to_numpy()
    coldness = 0.5 - 0.5 * np.cos(2 * np.pi * (day - 200) / 365.25)  # 0 in mid July, 1 in mid January
    years = (dates - dates[0]).days.to_numpy() / 365.25
    seasonal = 24.2 - 23.6 * coldness + 0.035 * (years - 12.5)
    month = (dates.year * 12 + dates.month).to_numpy()
    monthly = rng.normal(0, 1, month.max() - month.min() + 1)[month - month.min()] * (0.3 + 0.6 * coldness)
    # A month's character eases in and out, so that no month starts with a jump.
    monthly = pd.Series(monthly).rolling(21, center=True, min_periods=1).mean().to_numpy()
    mean = seasonal + monthly + _autocorrelated(rng, len(dates), 0.6) * (2.2 + 1.7 * coldness)
    half_range = np.clip(rng.normal(5.6 - 0.6 * coldness, 1.5), 1.5, 10)
    frames = []
    for site, (warmer_day, warmer_night) in SITE_OFFSETS.items():
        local = mean + rng.normal(0, 0.5, len(dates))
        spread = np.clip(half_range + rng.normal(0, 0.4, len(dates)), 1.0, None)
        tmin, tmax = local - spread + warmer_night, local + spread + warmer_day
        frames.append(
            pd.DataFrame({"site": site, "date": dates, "tmin_c": tmin.round(1), "tmax_c": tmax.round(1)})
        )
    return pd.concat(frames, ignore_index=True)


def warmer(weather: pd.DataFrame) -> pd.DataFrame:
    """The station's days as a place far to the south might have them, where winter chill runs short: date, tmin_c, tmax_c."""
    here = weather[weather["site"] == "maravel"].drop(columns="site")
    coldness = 0.5 - 0.5 * np.cos(2 * np.pi * (here["date"].dt.dayofyear - 200) / 365.25)
    more = 2.5 + WARM_WINTERS * coldness
    return here.assign(tmin_c=(here["tmin_c"] + more).round(1), tmax_c=(here["tmax_c"] + more).round(1))


def bloom_days(weather: pd.DataFrame, site: str, season: int, heat: np.ndarray) -> np.ndarray:
    """Day of year on which the warmth since 1 February first reaches each of ``heat`` (degree-days)."""
    here = weather[(weather["site"] == site) & (weather["date"].dt.year == season)]
    here = here[here["date"].dt.month.between(2, 6)]
    warmth = ((here["tmin_c"] + here["tmax_c"]) / 2 - BASE_C).clip(lower=0).cumsum().to_numpy()
    first = int(here["date"].dt.dayofyear.iloc[0])
    return first + np.searchsorted(warmth, heat)


def spring_lateness(weather: pd.DataFrame, seasons: list[int]) -> np.ndarray:
    """How late each spring's bloom is at the station, in SDs over ``seasons``."""
    days = np.array([bloom_days(weather, "maravel", season, np.array([BLOOM_HEAT]))[0] for season in seasons])
    return (days - days.mean()) / max(days.std(), 1.0)


def crop_left(weather: pd.DataFrame, site: str, season: int, bloom_day: np.ndarray) -> np.ndarray:
    """Share of a full crop left after the coldest night from three days before bloom to nine after it.

    Four flowers in five can be lost before the crop is smaller (thinning would have taken them).
    """
    here = weather[(weather["site"] == site) & (weather["date"].dt.year == season)].sort_values("date")
    coldest = here["tmin_c"].to_numpy()
    night = np.array([coldest[int(day) - 4 : int(day) + 9].min() for day in bloom_day])
    killed = np.clip(0.1 + 0.8 * (KILL_10_C - night) / (KILL_10_C - KILL_90_C), 0, 0.99)
    return np.clip((1 - killed) / 0.2, 0, 1)
