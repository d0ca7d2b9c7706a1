"""The calls of a notebook as a document, made from their docstrings: ``python -m dashboard.page.documented docs/python.md``."""

from __future__ import annotations

import inspect
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from dashboard.answers.catalogue import Catalogue
from dashboard.answers.choices import CHOICES, FILTERS
from dashboard.calls import choices, columns
from dashboard.calls.asked import Asked
from dashboard.calls.choosing import OTHERS, PLAIN
from dashboard.calls.records import Records, load
from dashboard.calls.table import Table
from dashboard.page import documented_answers
from dashboard.page.own import show
from dashboard.terms.traits import HEADLINE, TRAITS
from dashboard.wording.cautions import CAUTIONS
from dashboard.wording.columns import COLUMNS

HEAD = """# Calls for a notebook

Every answer of the page can be had in a few lines of Python. Names are checked: what is not there is told in one sentence, with the
nearest that is. A notebook to start from is written by `orchard-slate notebook my.ipynb`.

In Jupyter: `pip install ".[jupyter]"`, then `jupyter lab my.ipynb`.
"""
IN_TEN = """
## In ten lines

A farm that lets people pick peaches has winters of 50 chill portions. Which suit it, and which eight would fill its summer best?
Type these lines in, look at each answer, then change a word.
"""
LINES = """
```python
from dashboard import load

records = load("path/to/records")  # load() for the invented demo
records.markets  # who may be asked for; records.cultivars tells what is recorded of each

ask = records.ask("Pick your own", fruit_type="peach", chill="50 portions")
ask.ranking(columns=["winter_chill", "nursery"])  # those that qualify first, then those that may

slate = list(ask.plan("Jun 10", "Aug 31", most=8).index)  # a data frame: rows are cultivars
ask.gaps(of=slate)  # the days those leave without fruit
ask.why(slate[0])  # limits and wishes of the buyer, one by one
ask.season(of=slate).picture()  # drawn as on the page
```

What to change, and where it stands:

| to change | write |
|---|---|
| who buys | any of `records.markets`, or [a dict of your own](#what-can-be-asked-for) |
| what must hold | a filter by its name, from [What can be asked for](#what-can-be-asked-for) |
| winter chill | any number with its unit: `"50 portions"` or `"700 hours"` |
| the selling season | its first and last day, as `"Jun 10"` |
| what is told beside the usual | `columns=`, from [the list of columns](#a-question-and-its-answers) |
| a picture | `.picture()`; [which answers have one](#what-an-answer-holds), and the names of all columns |
| one thing alone | `ask.but(site="Maravel Station")`; `ask.but(chill=None)` takes a filter off |
"""
READ = """
**What you see.** An answer is a pandas data frame. Units stand in the names of its columns: `size_in` and `firmness_lbf`, or `size_mm` and `firmness_n`
with `units="si"`. The ends of a likely range are in `_low` and `_high`, a part of a hundred is in `_pct`. A chance of 100 means nearly
sure, never certain. Dates are dates, of an ordinary year unless you ask otherwise. They are written in the coming season, which may
be early or late. Shown in Jupyter, an answer says its first sentence first and on what it rests last. The figures are those of the page.
A column or a row taken by a name that is not there, as `answer["sugr"]` or `answer.loc["Oskndo"]`, is told with the nearest that is.

Cultivars without a record of what a filter asks for do not pass; `evidence` says how many that are. {cautions}
"""
ASKING = """## What can be asked for

Keyword arguments of `records.ask(…)` and `ask.but(…)`. A filter takes one value or a list; several take any of them. Capitals, hyphens
and spaces are free. Where records hold other words, those can be asked for too; the values here are those of the demo records.

| name | what it is | what may be written |
|---|---|---|
"""
TOLD = {
    "market": ("who buys", "a market's key or title, the path of a profile, or a dict (below)"),
    "second_market": ("who else buys from the same slate, for `plan` and `order`", "as `market`"),
    "units": ("units of every answer", '`"us"`, `"si"`'),
    "site": ("figures at one site", "a site's key or name"),
    "opens": ("first selling day", 'a date, or a text such as `"Jun 10"`'),
    "closes": ("last selling day", "the same"),
    "slate": ("my slate, whose gaps are told", "a cultivar or a list of them"),
    "year": ("kind of season for dates and cover", ""),
    "ripeness": ("fruit as picked, or size and sugar at equal firmness", ""),
    "least": ("how many cultivars at once cover a day", ""),
    "certainty": ("in so many years of ten a day must have fruit to be covered", ""),
}
INLINE = """
A column of [a table of your own](#recordswith_table) is asked for by its name, with `_` for a space: `virus_tested="yes"`.

A market of your own is a dict in the words of a profile's file ([markets.md](markets.md)):

```python
mine = {
    "name": "Farm shop",
    "limit": [{"trait": "size", "at_least": 2.5, "unit": "in", "share": 0.8}],
    "wish": [{"trait": "sugar", "shape": "larger", "from": 9, "to": 14, "weight": 2}],
}
records.ask(mine).ranking()

richer = records.with_trait("sugar to firmness", "sugar / firmness")  # may stand in a limit or a wish then
```
"""
PAGE = """A tab of your own is a function from the question that stands on the page to what is shown. It is called when its tab is opened, and
again when a visitor has chosen something else. What fails in it is told in that tab, with its line.
"""
PAGE_LINES = """```python
from dashboard import load, show


def early(ask):
    rows = ask.ranking()
    return rows[rows["first_pick"].dt.month <= 6]


show(load(), tabs=["fruit", "season", ("Before July", early), "My slate"]).servable()
```
"""
SERVED = """The notebook is shown as the page by `orchard-slate serve --notebook my.ipynb FOLDER`. Its cells run for every visitor, so keep slow work
out of them. A cell that fails is told on the page with its line, and the others still run. What `with_trait`, `with_table` and `with_market`
make is kept: asked for again, it is at hand.

In JupyterLab pages and pictures need no internet, and a page in a cell lives as long as its kernel. To mail what came out, write it as
one file. It needs no internet either.
"""
MAILED = """
```sh
jupyter nbconvert --execute --to html --HTMLExporter.require_js_url= --HTMLExporter.mathjax_url= my.ipynb
```
"""
OTHERS_READ = """
Other programs take an answer as a data frame, as Arrow or Parquet (`pip install ".[arrow]"`), or as a data package. In HoloViews it opens so.

```python
hv.Dataset(answer.reset_index(), "cultivar")
```
"""
CALLS: dict[str, tuple[Any, ...]] = {
    "Records": (Records.ask, Records.find, Records.fruit, Records.estimates, Records.derive, Records.with_trait, Records.with_table, Records.with_market, Records.markets, Records.cultivars, Records.problems),
    "A question and its answers": (
        Asked.ranking, Asked.why, Asked.compare, Asked.stand_ins, Asked.season, Asked.gaps, Asked.site, Asked.plan, Asked.order, Asked.but,
    ),
    "An answer": (Table.said, Table.evidence, Table.cautions, Table.picture, Table.arrow, Table.parquet, Table.package),
}  # fmt: skip
OWNER = {
    "Records": "records",
    "Bringing": "records",
    "Asked": "ask",
    "AtSite": "ask",
    "Orders": "ask",
    "Table": "answer",
}


def markdown(catalogue: Catalogue) -> str:
    """The document; values that may be asked for are those of ``catalogue``."""
    parts = [
        HEAD + IN_TEN + LINES + READ.format(cautions=" ".join(CAUTIONS)),
        "## Reading records\n",
        _call(load, "load"),
        _about(Records),
    ]
    for title, calls in CALLS.items():
        owner = {"A question and its answers": Asked, "An answer": Table}.get(title)
        parts.append(f"## {title}\n" + (f"\n{_about(owner)}" if owner else ""))
        parts += [_call(*_of(call)) for call in calls]
        if title == "Records":
            parts += [ASKING.rstrip("\n") + "\n" + _asked_for(catalogue), INLINE.strip("\n") + "\n"]
        if title.startswith("A question"):
            parts += [_columns(documented_answers.added(catalogue)), documented_answers.held(catalogue)]
    parts += ["## The page\n", _call(show, "show"), PAGE, PAGE_LINES, SERVED + MAILED + OTHERS_READ]
    return "\n".join(parts)


def _of(call: Any) -> tuple[Callable[..., Any], str]:
    """The function, and how it is called."""
    function: Any = call.fget if isinstance(call, property) else call
    owner, name = function.__qualname__.split(".")
    return function, f"{OWNER[owner]}.{name}" + ("" if isinstance(call, property) else "()")


def _about(kind: type) -> str:
    return f"`{kind.__name__}`: {_paragraphs(inspect.getdoc(kind) or '')}\n"


def _call(function: Callable[..., Any], called: str) -> str:
    """A heading, the call as it is written, what it does, takes, gives and raises."""
    text = inspect.getdoc(function) or ""
    head, *sections = re.split(r"^(Parameters|Returns|Raises)\n-+$", text, flags=re.MULTILINE)
    told = dict(zip(sections[::2], sections[1::2], strict=True))
    lines = [f"### `{called if called.endswith('()') or '.' in called else called + '()'}`\n"]
    if called.endswith("()") or "." not in called:
        lines.append(f"```python\n{called.removesuffix('()')}{_signature(function)}\n```\n")
    lines.append(_paragraphs(head) + "\n")
    if "Parameters" in told:
        lines.append(
            "\n".join(f"- `{name}` ({kind}): {what}" for name, kind, what in _entries(told["Parameters"]))
            + "\n"
        )
    if "Returns" in told:
        kind, _, what = told["Returns"].strip().partition("\n")
        lines.append(
            f"Gives back: {kind}{'. ' + _paragraphs(inspect.cleandoc(what)) if what.strip() else '.'}\n"
        )
    if "Raises" in told:
        faults = re.findall(r"^(\w+)\n((?:    .*\n?)+)", told["Raises"].strip() + "\n", re.MULTILINE)
        lines.append(
            "\n".join(f"- raises `{name}`: {_paragraphs(inspect.cleandoc(what))}" for name, what in faults)
            + "\n"
        )
    return "\n".join(lines)


def _signature(function: Callable[..., Any]) -> str:
    """Names and defaults; the types stand with each parameter."""
    signature = inspect.signature(function)
    kept = [
        one.replace(annotation=inspect.Parameter.empty)
        for one in signature.parameters.values()
        if one.name != "self"
    ]
    return str(signature.replace(parameters=kept, return_annotation=inspect.Signature.empty)).replace(
        "'", '"'
    )


def _entries(section: str) -> list[tuple[str, str, str]]:
    """Name, kind and meaning of each parameter."""
    found = re.findall(r"^(\S[^:\n]*) : ([^\n]+)\n((?:    .*\n?)+)", section.strip() + "\n", re.MULTILINE)
    return [(name, kind, _paragraphs(inspect.cleandoc(what))) for name, kind, what in found]


def _paragraphs(text: str) -> str:
    return "\n\n".join(" ".join(part.split()) for part in text.strip().split("\n\n")).replace("``", "`")


def _asked_for(catalogue: Catalogue) -> str:
    lines = []
    for name in (*OTHERS, *PLAIN):
        what, written = TOLD[name]
        lines.append(f"| `{name}` | {what} | {written or _listed(CHOICES[PLAIN[name]].options(catalogue))} |")
    for name, field in choices.CALLED.items():
        label = FILTERS[field].label
        lines.append(f"| `{name}` | {label[0].lower() + label[1:]} | {_written(catalogue, field)} |")
    return "\n".join(lines) + "\n"


def _written(catalogue: Catalogue, field: str) -> str:
    if field == "seasons":
        return "a whole number, the least"
    if field == "bacterial_spot":
        return "a number, the most"
    return _listed(choices.spellings(catalogue, field))


def _listed(values: Any) -> str:
    return ", ".join(f'`"{value}"`' if isinstance(value, str) else f"`{value}`" for value in values)


def _columns(added: dict[str, str]) -> str:
    lines = [
        "Further columns of `ask.ranking(columns=…)`:\n",
        "| key | what it adds | columns |",
        "|---|---|---|",
    ]
    for key in columns.OFFERED:
        if key in TRAITS:
            what = TRAITS[key].meaning
        elif key == columns.CLASS:
            what = "fruit type, flesh color, acidity, shape, pit, and whether it is released"
        else:
            meaning = COLUMNS[key].meaning
            what = meaning if isinstance(meaning, str) else key
        lines.append(f"| `{key}` | {what.rstrip('.')} | {added[key]} |")
    told = ", ".join(f"`{key}`" for key in HEADLINE)
    return "\n".join([*lines, f"| `all` | every one of these | |\n\n{told} are always there.\n"])


def write(place: Path, catalogue: Catalogue) -> None:
    place.write_text(markdown(catalogue), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write(Path(sys.argv[1]), load().catalogue)
