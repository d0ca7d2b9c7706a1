"""What the documents say of files, commands, layers, libraries and links is so."""

from __future__ import annotations

import argparse
import re
import shlex
import tomllib
from pathlib import Path

import pandas as pd
import pytest

from dashboard import ROOMS, cli
from dashboard.answers.catalogue import Catalogue
from dashboard.answers.question import QUESTION, known_values
from dashboard.charts.held import Held
from dashboard.estimates.averages import average_values
from dashboard.estimates.readings import readings
from dashboard.market import read_market
from dashboard.page import app
from dashboard.page.parts import live
from dashboard.places import demo_data
from dashboard.terms.traits import CLASSES, FRUIT_TRAITS, TRAITS
from dashboard.terms.units import QUANTITIES
from dashboard.visit.link import IN_LINKS, VERSION
from dashboard.visit.state import LINKED, LOOKS, TABS, State
from dashboard.wording.columns import OFFERED

ROOT = Path(__file__).resolve().parents[1]
DOCUMENTS = (ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md")))
READERS = ("grower", "specialist", "nursery", "technician")
_CODE = re.compile(r"```.*?```|`[^`\n]*`", re.DOTALL)


def text(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def links(document: str) -> list[str]:
    """Where the links and pictures of a document lead; code shows links and makes none."""
    return re.findall(r"\]\(([^)\s]+)\)", _CODE.sub("", document))


def anchors(document: str) -> set[str]:
    """The headings of a document as a link names them: lower case, hyphens, no other marks."""
    headings = re.findall(r"^#+ (.+)$", document, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def faulty_links(path: Path, root: Path) -> list[str]:
    """Links that lead nowhere, or out of the project."""
    faulty = []
    for link in links(path.read_text(encoding="utf-8")):
        if re.match(r"[a-z]+:", link):
            continue
        place, _, anchor = link.partition("#")
        target = (path.parent / place).resolve() if place else path
        lost = not target.is_relative_to(root) or not target.exists()
        if lost or (anchor and anchor not in anchors(target.read_text(encoding="utf-8"))):
            faulty.append(link)
    return faulty


def commands(document: str) -> list[str]:
    """Every command line ``orchard-slate …`` that is written as code, without comments."""
    found = []
    for code in _CODE.findall(document):
        for line in code.strip("`").splitlines():
            for part in re.split(r"&&|;|\s#\s", line):
                written = re.match(r"(?:ExecStart=)?(?:\S*[/\\])?orchard-slate (\S.*)", part.strip())
                if written:
                    found.append(written[1])
    return found


def known_command(line: str) -> bool:
    """Whether the command would be understood: its name, its options, its places."""
    words = [re.sub(r"%i|PORT", "5006", word) for word in shlex.split(line)]
    try:
        cli.parser().parse_args(words)
    except (SystemExit, argparse.ArgumentError):
        return False
    return True


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_every_link_in_a_document_leads_somewhere(path):
    assert faulty_links(path, ROOT) == []


@pytest.mark.parametrize(
    ("written", "faulty"),
    [
        ("[a](there.md)", []), ("[a](there.md#a-heading)", []), ("[a](#own)\n# Own", []), ("[a](https://example.org/x)", []),
        ("`[a](gone.md)`", []), ("[a](gone.md)", ["gone.md"]), ("![a](gone.png)", ["gone.png"]),
        ("[a](there.md#gone)", ["there.md#gone"]), ("[a](#gone)", ["#gone"]), ("[a](../outside.md)", ["../outside.md"]),
    ],
)  # fmt: skip
def test_a_link_that_leads_nowhere_is_found(tmp_path, written, faulty):
    (tmp_path / "outside.md").write_text("", encoding="utf-8")
    root = tmp_path / "root"
    root.mkdir()
    (root / "there.md").write_text("# A heading\n", encoding="utf-8")
    (root / "here.md").write_text(written, encoding="utf-8")
    assert faulty_links(root / "here.md", root) == faulty


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_every_command_in_a_document_is_understood(path):
    assert [line for line in commands(path.read_text(encoding="utf-8")) if not known_command(line)] == []


@pytest.mark.parametrize("name", ["README.md", "docs/deploy.md", "docs/technician.md"])
def test_the_commands_of_these_documents_are_found(name):
    assert len(commands(text(name))) >= 3


@pytest.mark.parametrize(
    ("written", "understood"),
    [
        ("`orchard-slate serve FOLDER --warm`", [True]), ("`orchard-slate serve --colour red`", [False]), ("`orchard-slate plant`", [False]),
        ("```sh\ncd x && /opt/bin/orchard-slate check f  # why\n```", [True]), ("`ExecStart=/opt/bin/orchard-slate serve --port %i`", [True]),
        ("orchard-slate is a name here", []),
    ],
)  # fmt: skip
def test_a_command_that_is_not_understood_is_found(written, understood, capsys):
    assert [known_command(line) for line in commands(written)] == understood


def test_the_reading_order_is_that_of_the_rooms():
    order = text("DEVELOPERS.md").split("## Reading order")[1].split("\n## ")[0]
    assert tuple(re.findall(r"^\d+\. `(\w+)`", order, re.MULTILINE)) == tuple(ROOMS)


@pytest.mark.parametrize("name", ["DEVELOPERS.md", "docs/methods.md", "docs/decisions.md"])
def test_every_file_named_in_a_document_is_there(name):
    """Those written with a folder; a file named alone is told from the words around it."""
    named = {
        word
        for word in re.findall(r"`([\w./-]+/[\w.-]*)`", text(name))
        if not word.startswith(("/", ".venv", "http")) and "." in word.rsplit("/", 1)[-1]
    }
    roots = (ROOT, ROOT / "dashboard")
    assert named
    assert sorted(word for word in named if not any((root / word).exists() for root in roots)) == []


def test_every_file_of_the_reading_order_stands_in_its_room():
    order = text("DEVELOPERS.md").split("## Reading order")[1].split("\n## ")[0]
    for room, told in re.findall(r"^\d+\. `(\w+)`:(.*?)(?=^\d+\. |\Z)", order, re.MULTILINE | re.DOTALL):
        for name in re.findall(r"`([\w/]+\.py)`", told):
            assert any((ROOT / "dashboard" / part / name).exists() for part in ("", room, f"{room}/parts")), (
                room,
                name,
            )


def test_every_name_in_code_that_developers_read_is_somewhere_in_the_code():
    files = [
        path for folder in ("dashboard", "tests", "demo_data", ".ci") for path in (ROOT / folder).rglob("*.*")
    ]
    code = [path for path in files if path.suffix in (".py", ".js", ".html") and path != Path(__file__)]
    words = {word for path in code for word in re.findall(r"\w+", path.read_text(encoding="utf-8"))}
    words |= {part for path in files for part in re.findall(r"\w+", path.name)}
    named = re.findall(r"`([A-Za-z_][\w.]*)(?:\([^`]*\))?`", text("DEVELOPERS.md"))
    assert [name for name in named if not set(name.split(".")) <= words] == []
    owners = {"app": app, "held": Held, "live": live, "state": State}
    owned = [
        name.split(".")[:2]
        for name in named
        if name.split(".")[0] in owners and "." in name and not name.endswith(".py")
    ]
    assert ["held", "show"] in owned
    assert [name for name in owned if not hasattr(owners[name[0]], name[1])] == []


def test_every_library_has_its_paragraph():
    project = tomllib.loads(text("pyproject.toml"))["project"]
    wanted = [
        *project["dependencies"],
        *(one for extra in project["optional-dependencies"].values() for one in extra),
    ]
    names = {re.split(r"[<>=!~ \[;]", line)[0] for line in wanted}
    told = set(re.findall(r"\*\*([a-z][\w-]*)\*\*", text("docs/decisions.md")))
    assert names == told


def test_the_versions_that_developers_read_are_those_of_the_project():
    project = tomllib.loads(text("pyproject.toml"))["project"]
    named = re.findall(
        r"`([a-z-]+[<>=][^`]*)`", text("DEVELOPERS.md").split("Supported:")[1].split("\n\n")[0]
    )
    assert named
    assert set(named) <= set(project["dependencies"])
    assert f"Python {project['requires-python'].removeprefix('>=')} or newer" in text("DEVELOPERS.md")


def link_table() -> dict[str, list[str]]:
    """Field of a link: the values its line names."""
    section = text("docs/specialist.md").split("## The link")[1].split("\n## ")[0]
    lines = re.findall(r"^\| `(\w+)` \| [^|]+ \| ([^|]*) \|$", section, re.MULTILINE)
    return {field: re.findall(r"`([^`]+)`", values) for field, values in lines}


def test_every_choice_of_a_link_is_explained():
    told = link_table()
    assert list(told) == ["v", *(IN_LINKS.get(field, field) for field in LINKED)]
    assert {IN_LINKS.get(field, field) for field in QUESTION} < set(told)
    assert told["v"] == [str(VERSION)]
    assert told["tab"] == list(TABS)
    assert told["look"] == list(LOOKS)


def test_the_values_named_for_a_link_are_those_the_demo_knows(demo: Catalogue):
    told, known = link_table(), known_values(demo)
    for field in ("fruit_type", "flesh_colour", "acidity_class", "shape_type", "stone"):
        assert told[field] == [*CLASSES[field][1], "not recorded"]
    for field in ("ripening", "seasons", "market", "units", "site", "ripeness"):
        assert set(told[field]) <= {str(value) for value in known[field]}
    assert set(map(str, known["seasons"])) == set(told["seasons"])
    assert told["ripeness"] == list(known["ripeness"])
    assert told["columns"] == list(OFFERED)


@pytest.mark.parametrize("name", READERS)
def test_every_reader_is_told_the_cautions(name):
    said = " ".join(text(f"docs/{name}.md").split())
    for word in (
        "adjusted values",
        "all dates together",
        "sites and seasons they come from",
        "not insurance",
        "license",
        "extension service",
    ):
        assert word in said, word


def test_the_market_worked_through_can_be_read(tmp_path):
    profile = text("docs/markets.md").split("```toml\n")[1].split("```")[0]
    path = tmp_path / "farm_shop.toml"
    path.write_text(profile, encoding="utf-8")
    market = read_market(path)
    assert [limit.kind for limit in market.limits] == ["class", "trait", "trait"]
    assert [wish.shape for wish in market.wishes] == ["larger", "target", "smaller"]


def test_every_word_of_a_profile_is_explained():
    document = text("docs/markets.md").split("## Entries")[1]
    assert all(f"`{key}`" in document for key in (*CLASSES, *TRAITS))
    units = [suffix for quantity in ("length", "force") for suffix in QUANTITIES[quantity]]
    assert all(f"`{suffix}`" in document for suffix in units)
    on_fruit = document.split("Only for what is measured on each fruit: ")[1].split(".")[0].split(", ")
    assert on_fruit == [TRAITS[key].label.lower() for key in FRUIT_TRAITS]


def test_what_fair_values_gain_on_the_demo_is_as_written(demo: Catalogue):
    """The table of docs/methods.md, from the demo records and the truth they were drawn from."""
    section = text("docs/methods.md").split("### How near the truth")[1].split("\n#")[0]
    lines = re.findall(
        r"^\| (\w+) \| ([\d.]+) \S+ \| ([\d.]+) \S+ \| (\d+) % \| (\d+) % \| ([−\d.]+) \S+ \| ([−\d.]+) \S+ \|$",
        section,
        re.MULTILINE,
    )
    assert [line[0] for line in lines] == ["size", "firmness", "sugar"]
    truth = pd.read_csv(demo_data() / "truth" / "values.csv").set_index("cultivar")
    for trait, *written in lines:
        raw = nearness(average_values(readings(demo.summaries, trait)), truth[trait])
        fair = nearness(demo.values[trait], truth[trait])
        told = [float(figure.replace("−", "-")) for figure in written]
        assert told[:2] == pytest.approx([raw["error"], fair["error"]], rel=0.02)
        assert told[2:4] == pytest.approx([raw["held"], fair["held"]], abs=1.0)
        assert told[4:] == pytest.approx([raw["lucky"], fair["lucky"]], abs=0.02 * raw["lucky"] + 0.05)
        assert fair["error"] < 0.8 * raw["error"]  # what the document says of all three
        # Of 355 cultivars a share of 90 in 100 has an error of 1.6.
        assert abs(fair["held"] - 90) < 2.4
        assert fair["held"] > raw["held"] + 2
        assert abs(fair["lucky"]) < 0.2 * raw["lucky"]
    between = re.search(r"lies between: ([\d.]+) mm, ([\d.]+) N, ([\d.]+) °Brix", section)
    assert between
    for (trait, raw, fair, *_), careful in zip(lines, map(float, between.groups()), strict=True):
        apart = centred(demo.summaries, trait) - truth[trait]
        assert careful == pytest.approx(float(apart.std(ddof=0)), rel=0.02)
        assert float(fair) < careful < float(raw)


def centred(summaries: pd.DataFrame, trait: str) -> pd.Series:
    """By cultivar: mean difference of its site-season means from the means of those site-seasons."""
    cells = summaries.groupby(["cultivar", "site", "season"], as_index=False)[trait].mean()
    difference = cells[trait] - cells.groupby(["site", "season"])[trait].transform("mean")
    return difference.groupby(cells["cultivar"]).mean()


def nearness(values: pd.DataFrame, truth: pd.Series) -> dict[str, float]:
    """Root mean square error, per cent of intervals that hold the truth, and how much too high the ten highest are."""
    rows = values.dropna(subset=["estimate"]).join(truth.rename("truth"))
    error = rows["estimate"] - rows["truth"]
    return {
        "error": float((error**2).mean() ** 0.5),
        "held": float(100 * rows["truth"].between(rows["low"], rows["high"]).mean()),
        "lucky": float(error[rows.nlargest(10, "estimate").index].mean()),
    }
