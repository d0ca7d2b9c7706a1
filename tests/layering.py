"""The rules of the package's order, each as a sentence about what breaks it.

``faults(package)`` reads source text only, so it can be tried on a planted tree as well as on the real one.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

NAME = "dashboard"
LONGEST = 300  # lines a file
VAGUE = {"util", "utils", "helper", "helpers", "common", "base", "manager", "core"}
SCREENS = ("param", "holoviews", "panel", "panel_material_ui", "bokeh")
# Within the page, too, a file imports only from what stands before its own folder; what lies in the room itself comes last.
WITHIN = {"page": ("patches", "parts", "crowd", "frame", "hall", "tabs")}


def rooms(package: Path) -> dict[str, tuple[str, ...]]:
    """ROOMS as the package's own ``__init__`` writes it, names of libraries in place of DATA."""
    known: dict[str, Any] = {}
    for node in ast.parse((package / "__init__.py").read_text(encoding="utf-8")).body:
        target = node.targets[0] if isinstance(node, ast.Assign) else getattr(node, "target", None)
        if isinstance(target, ast.Name) and isinstance(value := node.value, ast.expr):  # type: ignore[attr-defined]
            if isinstance(value, ast.Dict):
                known[target.id] = {
                    ast.literal_eval(key): known["DATA"]
                    if isinstance(libraries, ast.Name)
                    else ast.literal_eval(libraries)
                    for key, libraries in zip(value.keys, value.values, strict=True)
                    if key is not None
                }
            else:
                known[target.id] = ast.literal_eval(value)
    return known["ROOMS"]


def faults(package: Path) -> list[str]:
    """One sentence a broken rule; none when the order holds."""
    known = rooms(package)
    files = sorted(path for path in package.rglob("*.py") if "__pycache__" not in path.parts)
    found = [*_listing(package, files, tuple(known))]
    for path in files:
        found += _size_and_name(package, path)
        if _room(package, path) in known:
            found += _imports(package, path, known)
    for path in sorted((*package.rglob("*.js"), *package.rglob("*.toml"))):
        found += _size_and_name(package, path)
    return [*found, *_circles(package, files)]


def screens_loaded(root: Path) -> list[str]:
    """The screen libraries that importing ``dashboard.answers.question`` from ``root`` brings in, in a fresh process."""
    code = f"import sys, {NAME}.answers.question; print(*(n for n in {SCREENS!r} if n in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
    return done.stdout.split()


def _room(package: Path, path: Path) -> str:
    return path.relative_to(package).with_suffix("").parts[0]


def _listing(package: Path, files: list[Path], known: tuple[str, ...]) -> Iterator[str]:
    present = {_room(package, path) for path in files} - {"__init__", "__main__"}
    yield from (f"{name} is not listed in ROOMS" for name in sorted(present - set(known)))
    yield from (f"{name} is listed in ROOMS and is not there" for name in known if name not in present)


def _size_and_name(package: Path, path: Path) -> Iterator[str]:
    lines = len(path.read_text(encoding="utf-8").splitlines())
    where = path.relative_to(package).as_posix()
    if lines > LONGEST:
        yield f"{where} has {lines} lines, at most {LONGEST}"
    for part in path.relative_to(package).with_suffix("").parts:
        if VAGUE & set(part.lower().split("_")):
            yield f"{where}: {part} says nothing about what is in it"


def _imports(package: Path, path: Path, known: dict[str, tuple[str, ...]]) -> Iterator[str]:
    where, room, order = path.relative_to(package).as_posix(), _room(package, path), list(known)
    below = set()
    for module in sorted(set(_imported(package, path))):
        root, _, rest = module.partition(".")
        if root == NAME:
            target, _, further = rest.partition(".")
            if target in known and order.index(target) > order.index(room):
                below.add(target)
            elif target == room in WITHIN and _after(WITHIN[room], path.relative_to(package).parts, further):
                below.add(f"{target}.{further.split('.')[0]}")
        elif root not in sys.stdlib_module_names and root not in known[room]:
            yield f"{where} imports {root}, which {room} may not use"
    yield from (f"{where} imports {target}, which stands below it" for target in sorted(below))


def _after(folders: tuple[str, ...], parts: tuple[str, ...], module: str) -> bool:
    """Whether a module of the same room stands after the folder of the file; what lies in the room itself comes last."""
    here = folders.index(parts[1]) if parts[1] in folders else len(folders)
    named = module.split(".")[0]
    return bool(module) and (folders.index(named) if named in folders else len(folders)) > here


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
    """Files of one room that import each other in a ring; between rooms the order forbids it already."""
    modules = {}
    for path in files:
        parts = path.relative_to(package).with_suffix("").parts
        modules[".".join((NAME, *(part for part in parts if part != "__init__")))] = path
    graph = {
        name: {
            wanted
            for wanted in _imported(package, path)
            if wanted in modules and _room(package, modules[wanted]) == _room(package, path)
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
