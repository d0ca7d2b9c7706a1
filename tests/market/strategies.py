"""Any market somebody may write down: classes, traits, winters with enough chill, bounds of any size, words of any script."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import strategies as st

from dashboard.market import Limit, Market, Wish
from dashboard.market.profile import SHAPES
from dashboard.market.statements import MOST
from dashboard.terms.traits import CLASSES, ENOUGH_CHILL, FRUIT_TRAITS, TRAITS, UNKNOWN
from dashboard.terms.units import SYSTEMS

systems = st.sampled_from(SYSTEMS)
# Figures as people write them, and figures nobody would.
figures = st.one_of(
    st.decimals(-100, 1000, places=3).map(float),
    st.floats(-1e12, 1e12, allow_nan=False).filter(lambda si: si == 0 or abs(si) > 1e-6),
    st.sampled_from([0.0, 57.15, 60.325, 2.375, 63.743225, 1e-9, 1e15]),
)
above_zero = st.one_of(st.decimals("0.001", 100, places=3).map(float), st.floats(1e-6, 1e6))
# One line without blanks at its ends or two on end: a profile's texts are read so.
texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=60).map(
    lambda text: " ".join(text.split())
)


@st.composite
def limits(draw) -> Limit:
    source = draw(texts)
    kind = draw(st.sampled_from(["class", "trait", "place"]))
    if kind == "place":
        return Limit(
            "place",
            ENOUGH_CHILL,
            at_least=draw(st.sampled_from([9.0, 7.5]) | st.floats(0.001, 10)),
            source=source,
        )
    if kind == "class":
        key = draw(st.sampled_from([*CLASSES]))
        words = draw(st.lists(st.sampled_from([*CLASSES[key][1], UNKNOWN]), min_size=1, unique=True))
        return Limit("class", key, tuple(words), source=source)
    key = draw(st.sampled_from([*TRAITS]))
    low, high = sorted([abs(draw(figures)), abs(draw(figures))])
    which = draw(st.sampled_from(["at_least", "at_most", "both"]))
    share = draw(st.none() | st.floats(0.001, 1)) if key in FRUIT_TRAITS else None
    seasons = draw(st.none() | st.floats(0.001, 9.999)) if share is not None else None
    return Limit(
        "trait", key,
        at_least=low if which != "at_most" else None, at_most=high if which != "at_least" else None,
        share=share, source=source, seasons=seasons,
    )  # fmt: skip


@st.composite
def wishes(draw) -> Wish:
    ends = st.lists(figures, min_size=3, max_size=3).map(sorted).filter(apart)
    low, middle, high = draw(ends)
    shape = draw(st.sampled_from(SHAPES))
    target = {"larger": high, "smaller": low, "target": middle}[shape]
    exponent = draw(st.just(1.0) | above_zero)
    return Wish(
        draw(st.sampled_from([*TRAITS])), shape, low, target, high, draw(above_zero), exponent, draw(texts)
    )


def apart(ends: list[float]) -> bool:
    """Far enough that a factor of 25.4 there and back keeps them in order."""
    return all(b - a > 1e-12 * max(abs(a), abs(b), 1e-3) for a, b in pairwise(ends))


@st.composite
def markets(draw) -> Market:
    taken = draw(st.lists(limits() | wishes(), min_size=1, max_size=MOST))
    return Market(
        "m", draw(texts.filter(bool)), draw(texts),
        tuple(part for part in taken if isinstance(part, Limit)), tuple(part for part in taken if isinstance(part, Wish)),
    )  # fmt: skip
