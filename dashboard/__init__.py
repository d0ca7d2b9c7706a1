"""From trial records to a shortlist of peach and nectarine cultivars.

A notebook begins with ``from dashboard import load``; what it may call stands in docs/python.md. Importing the package loads nothing:
its names are looked for when they are first used.

The package is read in the order below: a file imports only from rooms before its own. Each room's ``__init__`` says in which order
its files are read. The tests of layers and of DEVELOPERS.md take the order from here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dashboard.calls.asked import Asked
    from dashboard.calls.records import Records, load
    from dashboard.calls.table import Table
    from dashboard.calls.understood import AskError
    from dashboard.page.own import show

__all__ = ["AskError", "Asked", "Records", "Table", "load", "show"]

# What a room may use beside Python's own library. Rooms with DATA alone know no screen.
DATA = (
    "numpy",
    "pandas",
    "scipy",
    "python_calamine",
    "xlsxwriter",
    "markupsafe",
    "rapidfuzz",
    "threadpoolctl",
    "PIL",
    "zxingcpp",
    "pillow_heif",
    "duckdb",
    "sqlalchemy",
)

ROOMS: dict[str, tuple[str, ...]] = {
    "terms": DATA,  # what the words mean: units, traits, the glossary
    "places": DATA,  # where the demo data, the pages and the market profiles lie; how a file is written whole or not at all
    "records": DATA,  # what was written down: files, checked tables, sample summaries
    "mixed": DATA,  # linear mixed models by REML: adjusted values out of unbalanced records
    "estimates": DATA,  # what a cultivar is worth, and how sure we are
    "ripening": DATA,  # when it is picked, and how well a set covers a season
    "order": DATA,  # how many trees of which, at the least cost, so that the weeks are filled
    "site": DATA,  # whether it thrives at a place: winter chill, bloom and frost out of daily temperatures
    "market": DATA,  # what a buyer takes: limits and wishes, and what it says of each cultivar
    "answers": DATA,  # one question and its answer, in parts
    "wording": DATA,  # an answer's parts in sentences: page, paper and slate say the same
    "visit": ("param",),  # one visitor's choices, the link and where a phone opens it, what was kept
    "charts": ("numpy", "pandas", "holoviews", "bokeh", "markupsafe", "segno"),  # answers drawn
    "handout": (
        "numpy",
        "pandas",
        "xlsxwriter",
        "markupsafe",
        "reportlab",
    ),  # answers that leave the building
    "calls": (
        "numpy",
        "pandas",
        "markupsafe",
        "pyarrow",
    ),  # what a notebook calls: names checked, frames with units
    "slate": (
        "numpy",
        "pandas",
        "markupsafe",
        "bokeh",
        "jinja2",
    ),  # the page as one file that needs no server
    "page": (
        "numpy",
        "pandas",
        "markupsafe",
        "param",
        "panel",
        "panel_material_ui",
        "holoviews",
        "bokeh",
        "tornado",
    ),  # the page
    "serving": (
        "panel",
        "bokeh",
        "tornado",
        "prometheus_client",
        "pythonjsonlogger",
        "argon2",
        "markupsafe",
    ),  # the server under it: who is let in, what every answer carries, what whoever runs it sees
    "cli": (),  # the command
}

# Where what a notebook calls is written.
_FACE = {
    "load": "calls.records",
    "Records": "calls.records",
    "Asked": "calls.asked",
    "Table": "calls.table",
    "AskError": "calls.understood",
    "show": "page.own",
}


def __getattr__(name: str) -> Any:
    if name not in _FACE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    found = globals()[name] = getattr(import_module(f"{__name__}.{_FACE[name]}"), name)
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
