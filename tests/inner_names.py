"""Where the package holds on to inner parts of the libraries it stands on.

``faults(package)`` reads the sources, and of each class that comes from a library what the library's own classes call so. What begins with an
underscore is the library's own affair, and so is a module or a class of it that is given another part; both are held in one
room, ``page/patches``, where each hold says what it mends.
"""

from __future__ import annotations

import ast
import importlib
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

LIBRARIES = ("panel", "panel_material_ui", "bokeh", "param", "tornado", "holoviews")
ROOM = Path("page") / "patches"
INNER = re.compile(r"_[A-Za-z]\w*")
PYTHON_S = {"_replace", "_fields", "_asdict", "_exit"}  # of named tuples and of ``os``
ASKING = ("getattr", "hasattr", "setattr", "delattr")
SET_BY_RIGHT = {"pn.config"}  # what a library offers to be set
VIEWS = re.compile(r"\._[A-Za-z]\w*|\.prototype\b")  # in a script


def faults(package: Path) -> list[str]:
    """One sentence a hold outside its room."""
    found = []
    files = {path.relative_to(package): path for path in sorted(package.rglob("*.py"))}
    nodes = {
        where: list(ast.walk(ast.parse(path.read_text(encoding="utf-8")))) for where, path in files.items()
    }
    own = {name for where, every in nodes.items() if ROOM not in where.parents for name in _given(every)}
    for where, every in nodes.items():
        if ROOM not in where.parents:
            found += [
                f"{where.as_posix()}: {what}"
                for what in (*_held(every, own), *_replaced(every), *_overridden(package, where, every))
            ]
    for path in sorted((*package.rglob("*.js"), *package.rglob("*.html"))):
        where = path.relative_to(package)
        if ROOM not in where.parents:
            found += [
                f"{where.as_posix()}: {hold} is an inner part"
                for hold in VIEWS.findall(path.read_text(encoding="utf-8"))
            ]
    return found


def _given(nodes: Iterable[ast.AST]) -> Iterator[str]:
    """Inner names that the package itself gives: functions, what is set in a class or on a module, and on ``self``."""
    for node in nodes:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id
        elif (
            isinstance(node, ast.Attribute)
            and isinstance(node.ctx, ast.Store)
            and isinstance(node.value, ast.Name)
            and node.value.id == "self"
        ):
            yield node.attr


def _held(nodes: Iterable[ast.AST], own: set[str]) -> Iterator[str]:
    """Inner names that are read, or asked for by a text, and are nobody's here."""
    free = own | PYTHON_S
    for node in nodes:
        name: object = None
        if isinstance(node, ast.Attribute):
            name = node.attr
        elif isinstance(node, ast.Call) and getattr(node.func, "id", "") in ASKING and len(node.args) > 1:
            name = getattr(node.args[1], "value", None)
        elif isinstance(node, ast.Subscript) and ast.unparse(node.value).startswith("vars("):
            name = getattr(node.slice, "value", None)
        if isinstance(name, str) and INNER.fullmatch(name) and name not in free:
            yield f"{name} is an inner part"


def _replaced(nodes: Iterable[ast.AST]) -> Iterator[str]:
    """Parts of a library's modules and classes that are put in another's place."""
    theirs = set()
    for node in nodes:
        if isinstance(node, ast.Import):
            theirs |= {
                (one.asname or one.name).split(".")[0]
                for one in node.names
                if one.name.split(".")[0] in LIBRARIES
            }
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in LIBRARIES:
            theirs |= {one.asname or one.name for one in node.names}
    for node in nodes:
        if isinstance(node, ast.Attribute | ast.Subscript) and isinstance(node.ctx, ast.Store | ast.Del):
            whole, root = ast.unparse(node), node.value
            while isinstance(root, ast.Attribute | ast.Subscript):
                root = root.value
            if (
                isinstance(root, ast.Name)
                and root.id in theirs
                and not any(whole.startswith(f"{one}.") for one in SET_BY_RIGHT)
            ):
                yield f"{whole} is replaced"


def _overridden(package: Path, where: Path, nodes: Iterable[ast.AST]) -> Iterator[str]:
    """Inner names in the body of a class that a library's class above it has, too."""
    classes = [node for node in nodes if isinstance(node, ast.ClassDef)]
    if not classes:
        return
    module = importlib.import_module(
        ".".join((package.name, *where.with_suffix("").parts)).removesuffix(".__init__")
    )
    for node in classes:
        kind = getattr(module, node.name, None)
        for name in sorted(
            set(_given(ast.walk(ast.Module(node.body, [])))) if isinstance(kind, type) else ()
        ):
            holders = [
                one for one in kind.__mro__ if one.__module__.split(".")[0] in LIBRARIES and name in vars(one)
            ]
            if INNER.fullmatch(name) and holders:
                yield f"{node.name} takes the place of {holders[0].__name__}.{name}"
