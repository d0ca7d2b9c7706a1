"""The mutants of a file: the operators are mutmut's, applied wherever a figure or a sentence can come out different."""

from __future__ import annotations

import ast
import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import libcst as cst
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.mutators import mutation_operators, operator_string

ROOT = Path(__file__).resolve().parents[2]
# By area: its code, and the tests that mirror it.
AREAS = {
    "mixed": ("dashboard/mixed", "tests/mixed"),
    "estimates": ("dashboard/estimates", "tests/estimates"),
    "ripening": ("dashboard/ripening", "tests/ripening"),
    "season": (
        "dashboard/ripening/cover.py",
        "tests/ripening/test_cover.py",
        "tests/ripening/test_cover_draws.py",
    ),
    "market": ("dashboard/market", "tests/market"),
}


@dataclass(frozen=True)
class Mutant:
    """One changed place. ``function`` is the outermost one that the change lies in; "" outside of them and in defaults."""

    file: str
    lines: tuple[int, int]
    before: str
    after: str
    function: str
    source: str  # the whole file, changed

    def __str__(self) -> str:
        return f"{self.file}:{self.lines[0]}  {_short(self.before)}  →  {_short(self.after)}"


def files(area: str) -> list[Path]:
    place = ROOT / AREAS[area][0]
    return [place] if place.is_file() else sorted(place.rglob("*.py"))


def sample(area: str, count: int, seed: int) -> tuple[list[Mutant], int]:
    """``count`` mutants of an area by lot (all for 0), and how many there are."""
    places = [(path, at) for path in files(area) for at in range(len(_found(path)[1]))]
    chosen = places if not count else random.Random(f"{seed} {area}").sample(places, min(count, len(places)))
    return [_made(path, at) for path, at in sorted(chosen)], len(places)


def changed(file: str, before: str, after: str) -> Mutant:
    """The mutant that has ``after`` where ``file`` has ``before``, once and within a line."""
    source = (ROOT / file).read_text(encoding="utf-8")
    if source.count(before) != 1:
        raise LookupError(f"{file} has {source.count(before)} times: {before}")
    line = source[: source.index(before)].count("\n") + 1
    function = _around(ast.parse(source).body, line)
    return Mutant(file, (line, line), before, after, function, source.replace(before, after))


def _around(body: list[ast.stmt], line: int) -> str:
    """The outermost function that has this line in its body; "" for none."""
    for node in body:
        if isinstance(node, ast.ClassDef) and node.lineno <= line <= (node.end_lineno or line):
            method = _around(node.body, line)
            return f"{node.name}.{method}" if method else ""
        if isinstance(node, ast.FunctionDef) and node.body[0].lineno <= line <= (node.end_lineno or line):
            return node.name
    return ""


@cache
def _found(path: Path) -> tuple[cst.Module, list[tuple]]:
    """The file as a tree, and (node, its mutant, where, function) of each mutant."""
    wrapper = MetadataWrapper(cst.parse_module(path.read_text(encoding="utf-8")), unsafe_skip_copy=True)
    where = wrapper.resolve(PositionProvider)
    found = [
        (node, mutated, where[node], function)
        for node, function in _places(wrapper.module, "", "")
        if node in where
        for mutated in _mutations(node)
    ]
    return wrapper.module, found


def _places(node: cst.CSTNode, scope: str, function: str) -> Iterator[tuple[cst.CSTNode, str]]:
    """Every node with the function it lies in. Passed over is what changes no answer: decorators, types, and ``strict`` of zip,
    which only guards against mistakes that were not made."""
    if isinstance(node, cst.Decorator | cst.Annotation) or (isinstance(node, cst.Arg) and _is_strict(node)):
        return
    yield node, function
    if isinstance(node, cst.FunctionDef | cst.ClassDef):
        scope = f"{scope}.{node.name.value}".lstrip(".")
    for child in node.children:
        body = isinstance(node, cst.FunctionDef) and child is node.body
        yield from _places(child, scope, function or (scope if body else ""))


def _made(path: Path, at: int) -> Mutant:
    module, found = _found(path)
    node, mutated, where, function = found[at]
    source = module.deep_replace(node, mutated).code
    lines = (where.start.line, where.end.line)
    return Mutant(
        path.relative_to(ROOT).as_posix(),
        lines,
        module.code_for_node(node),
        module.code_for_node(mutated),
        function,
        source,
    )


def _mutations(node: cst.CSTNode) -> Iterator[cst.CSTNode]:
    for kind, operator in mutation_operators:
        if isinstance(node, kind):
            made = [
                one for one in operator(node) if not (isinstance(node, cst.Call) and _loses_strict(node, one))
            ]
            # Of a text once changed, lower and upper case say nothing more.
            yield from made[:1] if operator is operator_string else made


def _is_strict(arg: cst.Arg) -> bool:
    return arg.keyword is not None and arg.keyword.value == "strict"


def _loses_strict(node: cst.Call, mutated: cst.CSTNode) -> bool:
    kept = [arg for arg in getattr(mutated, "args", ()) if _is_strict(arg)]
    return [arg for arg in node.args if _is_strict(arg)] != kept


def _short(code: str) -> str:
    return " ".join(code.split())[:110]
