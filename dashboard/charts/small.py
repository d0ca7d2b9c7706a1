"""Drawings as small as a cell: a dot with its interval, a score bar, a picking bar over the slate's gaps, seasons as dots.

Each is a span that ``DRAWN_CSS`` draws from figures in its style, parts of an axis from 0 to 1: ``--a`` the value, ``--l`` and ``--h`` the
ends of its interval, ``--m`` and ``--n`` the least and the most that a buyer takes. The scripts write the same spans. A drawing is hidden
from a screen reader, which is given the figures in words (``beside``). What lies outside its axis is drawn at the end; what is not known is
not drawn, and says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from markupsafe import Markup

from dashboard.charts import style

# Each with the figures that it is drawn from.
LOOKS = {"score": "alh", "dot": "alh", "picking": "lh", "seasons": "a"}
SEASONS = 5  # dots; more seasons than these are told by the number beside them
NOT_KNOWN = "not known"

DRAWN_CSS = f"""
.drawn {{ display: inline-block; position: relative; box-sizing: border-box; width: 100%; min-width: 40px; height: 14px; vertical-align: middle; }}
.drawn::before, .drawn::after {{ position: absolute; box-sizing: border-box; }}
.drawn.dot {{ --line: repeating-linear-gradient({style.LIMIT} 0 3px, transparent 3px 5px); background:
  var(--line) calc(var(--m, -9) * 100%) 0 / 1.5px 100% no-repeat, var(--line) calc(var(--n, -9) * 100%) 0 / 1.5px 100% no-repeat,
  linear-gradient({style.RULE}, {style.RULE}) 0 50% / 100% 4px no-repeat; }}
.drawn.dot::before, .drawn.score::after {{ content: ""; left: calc(var(--l, 0) * 100%); width: calc((var(--h, 0) - var(--l, 0)) * 100%); height: 2px; top: 6px;
  background: {style.INK}; }}
.drawn.dot::after {{ content: ""; left: clamp(4px, calc(var(--a) * 100%), calc(100% - 4px)); width: 8px; height: 8px; margin: 3px 0 0 -4px; border-radius: 50%; background: {style.INK}; }}
.drawn.score {{ background: linear-gradient({style.RULE}, {style.RULE}) 0 50% / 100% 8px no-repeat; }}
.drawn.score::before {{ content: ""; left: 0; width: calc(var(--a) * 100%); height: 8px; top: 3px; border-radius: 0 4px 4px 0; background: {style.LEAF}; }}
.drawn.score::after {{ box-shadow: 0 0 0 1px {style.PAPER}; }}
.drawn.picking {{ background: linear-gradient({style.RULE}, {style.RULE}) 0 50% / 100% 2px no-repeat, var(--gaps, none); }}
.drawn.picking::before {{ content: ""; left: min(calc(var(--l) * 100%), calc(100% - 7px)); width: max(7px, calc((var(--h) - var(--l)) * 100%)); height: 8px; top: 3px;
  border-radius: 4px; background: {style.LEAF}; }}
.drawn.before::before, .drawn.after::before {{ display: none; }}
.drawn.before::after, .drawn.after::after {{ top: -1px; font-size: 14px; line-height: 16px; color: {style.QUIET}; }}
.drawn.before::after {{ content: "‹"; left: 0; }} .drawn.after::after {{ content: "›"; right: 0; }}
.drawn.seasons {{ width: calc({SEASONS} * 9px); min-width: 0; height: 9px; }}
.drawn.seasons::before, .drawn.seasons::after {{ content: ""; left: 0; width: calc(var(--a) * 100%); height: 9px;
  background: radial-gradient(circle, {style.LEAF} 0 3px, transparent 3.6px) 0 0 / 9px 9px; }}
.drawn.seasons::after {{ left: calc(var(--a) * 100%); width: auto; right: 0; background: radial-gradient(circle, transparent 2.2px, {style.LEAF} 2.6px 3px, transparent 3.6px) 0 0 / 9px 9px; }}
.pair {{ display: flex; gap: 8px; align-items: center; }} .shown {{ flex: none; }} .undrawn {{ color: {style.QUIET}; }}
.unseen {{ {style.UNSEEN} }}
@media (forced-colors: active) {{ .drawn {{ forced-color-adjust: none; background-color: {style.PAPER} !important; box-shadow: 0 0 0 3px {style.PAPER}; }} }}
"""


def part(value: float, low: float, high: float) -> float:
    """Where a value lies between the ends of an axis: 0 to 1, cut there; NaN where it is not known or the axis has no length."""
    if not (math.isfinite(low) and math.isfinite(high) and low < high) or value != value:
        return math.nan
    return min(1.0, max(0.0, (value - low) / (high - low)))


def dot(value: float, low: float, high: float, least: float = math.nan, most: float = math.nan) -> Markup:
    """A dot on a track, its interval, and the limits there are; all parts of the axis, NaN where not known."""
    return drawing("dot", (value, low, high), (least, most))


def score_bar(value: float, low: float, high: float) -> Markup:
    """A bar from 0 to ``value`` with its interval."""
    return drawing("score", (value, low, high))


def picking_bar(first: float, last: float) -> Markup:
    """From first to last pick, as parts of the selling days, uncut; what lies wholly before or after them is told by an arrow. The gaps
    behind it are the ``--gaps`` of what it stands in."""
    return drawing("picking", (first, last))


def drawing(look: str, figures: Sequence[float], limits: Sequence[float] = ()) -> Markup:
    """One of ``LOOKS`` with its figures, in their order, and its limits, least and most."""
    parts = dict(zip(LOOKS[look], figures, strict=True))
    if look == "picking" and parts["h"] == parts["h"] and parts["l"] == parts["l"]:
        look += " before" if parts["h"] < 0 else " after" if parts["l"] > 1 else ""
    elif "a" not in parts or parts["a"] != parts["a"]:
        return Markup('<span class="undrawn">{}</span>').format(NOT_KNOWN)
    elif any(parts.get(end, 0.0) != parts.get(end, 0.0) for end in "lh"):
        parts = {"a": parts["a"]}  # half an interval is none
    style = figured(**parts, **dict(zip("mn", limits, strict=False)))
    return Markup('<span class="drawn {}" aria-hidden="true" style="{}"></span>').format(look, style)


def beside(shown: str, drawing: Markup, told: str) -> Markup:
    """A figure with its drawing, and ``told``, which a screen reader is given in the place of both."""
    return Markup(
        '<span class="pair" aria-hidden="true"><span class="shown">{}</span>{}</span><span class="unseen">{}</span>'
    ).format(shown, drawing, told)


def gaps(stretches: Iterable[tuple[float, float]], days: float) -> str:
    """The ``--gaps`` of a container: stretches, first and last day from the first selling day on, pale on an axis of so many days."""
    stops, edge = [], 0.0
    for first, last in sorted(stretches):
        start, end = (100 * part(at, 0, days) for at in (first, last + 1))
        if end > max(start, edge):
            stops += [f"transparent {edge:.4g}% {start:.4g}%", f"{style.GAP} {start:.4g}% {end:.4g}%"]
            edge = end
    return f"linear-gradient(90deg, {', '.join([*stops, f'transparent {edge:.4g}%'])})" if stops else "none"


def figured(**parts: float) -> str:
    """Parts of an axis as a style: ``--a:.43;--l:.3``, cut to 0 and 1; what is not known is left out."""
    return ";".join(
        f"--{name}:{f'{min(1.0, max(0.0, at)):.3f}'.rstrip('0').rstrip('.')}"
        for name, at in parts.items()
        if at == at
    )
