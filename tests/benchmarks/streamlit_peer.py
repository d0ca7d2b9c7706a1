"""The same view written plainly in Streamlit: ``streamlit run streamlit_peer.py -- ROWS.csv``.

As its guide teaches: data cached, widgets in the sidebar, three layered charts side by side, a table of the first rows.
"""

import sys

import altair as alt
import pandas as pd
import streamlit as st

CHOICES = {
    "fruit_type": ["peach", "nectarine"],
    "flesh_colour": ["yellow", "white", "red"],
    "acidity_class": ["normal", "low"],
    "shape_type": ["round", "flat"],
    "stone": ["cling", "semi-free", "free"],
    "status": ["released", "numbered selection"],
}
TITLES = {"size": "Size (in)", "firmness": "Firmness (lb)", "sugar": "Sugar (°Brix)"}
PAIRS = (("size", "sugar"), ("firmness", "sugar"), ("size", "firmness"))
FEW, PAGE = 40, 15


@st.cache_data
def records(path: str) -> pd.DataFrame:
    return pd.read_csv(path)


def not_beaten(rows: pd.DataFrame) -> pd.Series:
    points = rows[["size", "sugar", "firmness"]].to_numpy()
    as_good = (points[None] >= points[:, None]).all(axis=2)
    ahead = (points[None] > points[:, None]).any(axis=2)
    return pd.Series(~(as_good & ahead).any(axis=1), index=rows.index)


def picture(rows: pd.DataFrame, everything: pd.DataFrame, x: str, y: str) -> alt.LayerChart:
    def axis(channel, key, column=None):
        scale = alt.Scale(
            domain=[float(everything[key].min()), float(everything[key].max())], zero=False, clamp=True
        )
        return channel(f"{column or key}:Q", title=TITLES[key], scale=scale)

    across, upright = axis(alt.X, x), axis(alt.Y, y)
    barred = rows if len(rows) <= FEW else rows[rows["ring"]]
    base, bars = alt.Chart(rows), alt.Chart(barred)
    words = ["cultivar", "kind", "size_told", "firmness_told", "sugar_told", "evidence"]
    return (
        bars.mark_rule(color="#56646d", opacity=0.55).encode(x=axis(alt.X, x, f"{x}_low"), x2=f"{x}_high", y=upright)
        + bars.mark_rule(color="#56646d", opacity=0.55).encode(x=across, y=axis(alt.Y, y, f"{y}_low"), y2=f"{y}_high")
        + base.transform_filter("datum.ring").mark_point(size=250, color="#2c5545", strokeWidth=2.4).encode(x=across, y=upright)
        + base.mark_point(size=70, stroke="#22303a", filled=True, strokeWidth=1.2, opacity=1).encode(
            x=across, y=upright, color=alt.Color("fill:N", scale=None),
            shape=alt.Shape("shape_type:N", legend=None, scale=alt.Scale(domain=["round", "flat"], range=["circle", "diamond"])),
            tooltip=words,
        )
    ).properties(height=330)  # fmt: skip


st.set_page_config(layout="wide", page_title="Streamlit")
rows = everything = records(sys.argv[1])
for field, values in CHOICES.items():
    chosen = [value for value in values if st.sidebar.checkbox(f"{field}: {value}")]
    if chosen:
        rows = rows[rows[field].isin(chosen)]
rows = rows.assign(ring=not_beaten(rows))
st.write(f"**{len(rows)}** of {len(everything)} cultivars pass your filters")
for column, (x, y) in zip(st.columns(3), PAIRS, strict=True):
    column.altair_chart(picture(rows, everything, x, y), width="stretch")
shown = ["cultivar", "kind", "size_told", "firmness_told", "sugar_told", "evidence"]
st.dataframe(rows[shown].head(PAGE), hide_index=True)
