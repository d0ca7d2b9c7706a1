"""The rules of the package's order, each as a sentence about what breaks it.

``faults(package)`` reads source text only, so it can be tried on a planted tree as well as on the real one.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

NAME = "dashboard"
LONGEST = 300  # lines a file
VAGUE = {"util", "utils", "helper", "helpers", "common", "base", "manager", "core"}
SCREENS = ("param", "holoviews", "panel", "panel_material_ui", "bokeh")
DATA = {
    "PIL",
    "duckdb",
    "markupsafe",
    "numpy",
    "pandas",
    "python_calamine",
    "rapidfuzz",
    "scipy",
    "threadpoolctl",
    "xlsxwriter",
}
# Below the line, layer by layer; a layer that is not named may use everything the package depends on.
BELOW = {
    "address": set(),
    "reach": set(),
    "prepared": set(),
    "steps": set(),
    "state": {"param"},
    "style": set(),
    "charts": {"numpy", "pandas", "holoviews", "bokeh", "markupsafe", "segno"},
    "handout": {"numpy", "pandas", "xlsxwriter", "markupsafe", "reportlab"},
    "views": {"numpy", "pandas", "markupsafe", "param", "panel", "panel_material_ui"},
    "slate": {"numpy", "pandas", "markupsafe", "bokeh", "jinja2"},
    "app": {"markupsafe", "param", "panel", "panel_material_ui", "holoviews"},
    "ahead": {"bokeh"},
    "operating": {"prometheus_client", "pythonjsonlogger"},
    "door": {"bokeh", "tornado"},
    "crowd": {"panel", "panel_material_ui", "bokeh", "tornado"},
    "serving": {"panel", "bokeh", "tornado"},
    "cli": set(),
}


def order(package: Path) -> dict[str, tuple[str, ...]]:
    """LAYERS and SCREENLESS as the package's own ``__init__`` writes them."""
    tree = ast.parse((package / "__init__.py").read_text(encoding="utf-8"))
    return {
        node.targets[0].id: ast.literal_eval(node.value)
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
    }


def faults(package: Path) -> list[str]:
    """One sentence a broken rule; none when the order holds."""
    known = order(package)
    layers, screenless = known["LAYERS"], known["SCREENLESS"]
    files = sorted(path for path in package.rglob("*.py") if "__pycache__" not in path.parts)
    found = [*_listing(package, files, layers), *_line_drawn(layers, screenless)]
    for path in files:
        found += _size_and_name(package, path)
        layer = _layer(package, path)
        if layer in layers:
            found += _imports(package, path, layer, layers, screenless)
    for path in sorted((*package.rglob("*.js"), *package.rglob("*.toml"))):
        found += _size_and_name(package, path)
    return [*found, *_circles(package, files)]


def screens_loaded(root: Path) -> list[str]:
    """The screen libraries that importing ``dashboard.comparison`` from ``root`` brings in, in a fresh process."""
    code = f"import sys, {NAME}.comparison; print(*(n for n in {SCREENS!r} if n in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
    return done.stdout.split()


def _layer(package: Path, path: Path) -> str:
    parts = path.relative_to(package).with_suffix("").parts
    return parts[0]


def _listing(package: Path, files: list[Path], layers: tuple[str, ...]) -> Iterator[str]:
    present = {_layer(package, path) for path in files} - {"__init__", "__main__"}
    yield from (f"{name} is not listed in LAYERS" for name in sorted(present - set(layers)))
    yield from (f"{name} is listed in LAYERS and is not there" for name in layers if name not in present)
    yield from (f"{name} is listed twice in LAYERS" for name in set(layers) if layers.count(name) > 1)


def _line_drawn(layers: tuple[str, ...], screenless: tuple[str, ...]) -> Iterator[str]:
    if layers[: len(screenless)] != screenless:
        yield "SCREENLESS is not the upper part of LAYERS"


def _size_and_name(package: Path, path: Path) -> Iterator[str]:
    lines = len(path.read_text(encoding="utf-8").splitlines())
    where = path.relative_to(package).as_posix()
    if lines > LONGEST:
        yield f"{where} has {lines} lines, at most {LONGEST}"
    for part in path.relative_to(package).with_suffix("").parts:
        if VAGUE & set(part.lower().split("_")):
            yield f"{where}: {part} says nothing about what is in it"


def _imports(
    package: Path, path: Path, layer: str, layers: tuple[str, ...], screenless: tuple[str, ...]
) -> Iterator[str]:
    where = path.relative_to(package).as_posix()
    allowed = DATA if layer in screenless else BELOW.get(layer)
    below = set()
    for module in sorted(set(_imported(package, path))):
        root, _, rest = module.partition(".")
        if root == NAME:
            target = rest.partition(".")[0]
            if target in layers and layers.index(target) > layers.index(layer):
                below.add(target)
        elif root not in sys.stdlib_module_names and allowed is not None and root not in allowed:
            yield f"{where} imports {root}, which {layer} may not use"
    yield from (f"{where} imports {target}, which stands below it" for target in sorted(below))


def _imported(package: Path, path: Path) -> Iterator[str]:
    """Every module a file imports, wherever in the file, as full dotted names."""
    here = (NAME, *path.relative_to(package).parent.parts)
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = ".".join(here[: len(here) - node.level + 1]) if node.level else ""
            module = ".".join(part for part in (start, node.module or "") if part)
            yield module
            if module.split(".")[0] == NAME:  # "from dashboard import market" names a module too
                yield from (f"{module}.{alias.name}" for alias in node.names)


def _circles(package: Path, files: list[Path]) -> Iterator[str]:
    """Files of one layer that import each other in a ring; between layers the order forbids it already."""
    modules = {}
    for path in files:
        parts = path.relative_to(package).with_suffix("").parts
        modules[".".join((NAME, *(part for part in parts if part != "__init__")))] = path
    graph = {
        name: {
            wanted
            for wanted in _imported(package, path)
            if wanted in modules and _layer(package, modules[wanted]) == _layer(package, path)
        }
        for name, path in modules.items()
        if path.name != "__init__.py"  # a package gathers its own files
    }
    done: set[str] = set()
    for start in graph:
        yield from _ring(start, graph, [], done)


def _ring(name: str, graph: dict[str, set[str]], trail: list[str], done: set[str]) -> Iterator[str]:
    if name in trail:
        yield "imports run in a ring: " + " > ".join([*trail[trail.index(name) :], name])
    elif name not in done:
        for further in sorted(graph.get(name, ())):
            yield from _ring(further, graph, [*trail, name], done)
        done.add(name)
