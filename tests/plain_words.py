"""What the program says, sentence by sentence: every piece of text in its source that a reader may get to see.

``said(folder)`` reads source only. A figure or a name that is filled in is read as ``7``.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
READERS = ("README", "docs/grower", "docs/specialist", "docs/nursery", "docs/technician", "docs/markets", "docs/bring_your_own_data", "docs/deploy", "docs/glossary")  # fmt: skip
_SCRIPT = re.compile(r"""(?<![\\w])(?:"([^"\\n]*)"|'([^'\\n]*)'|`([^`]*)`)""")
_ENDS = re.compile(r"(?<=[.?!])\s+(?=[A-Z])")


@dataclass(frozen=True)
class Said:
    place: str
    text: str


def said(folder: Path) -> Iterator[Said]:
    """Text of more than one word; documentation, stylesheets and keys are no text."""
    for file in sorted(folder.rglob("*.py")):
        for line, text in _of_python(ast.parse(file.read_text(encoding="utf-8"))):
            yield from _text(f"{file.relative_to(folder)}:{line}", text)
    for file in sorted(folder.rglob("*.toml")):
        for found in re.findall(r'^\w+ = "(.*)"$', file.read_text(encoding="utf-8"), re.MULTILINE):
            yield from _text(f"{file.relative_to(folder)}", found)
    for file in sorted([*folder.rglob("*.js"), *folder.rglob("*.html")]):
        source = re.sub(r"/\*.*?\*/|(?<!:)//[^\n]*", "", file.read_text(encoding="utf-8"), flags=re.DOTALL)
        for found in _SCRIPT.finditer(source):
            yield from _text(
                f"{file.relative_to(folder)}",
                re.sub(r"\$\{[^}]*\}", "7", next(filter(None, found.groups()), "")),
            )


def documents() -> Iterator[Said]:
    """The readers' documents, a paragraph each; what is code is left out."""
    for name in READERS:
        text = (ROOT / f"{name}.md").read_text(encoding="utf-8")
        text = re.sub(r"```.*?```|`[^`]*`|\]\([^)]*\)", " ", text, flags=re.DOTALL)
        for at, part in enumerate(text.split("\n\n")):
            yield Said(f"{name}.md, paragraph {at + 1}", " ".join(part.split()))


def sentences(one: Said) -> list[str]:
    return [
        part.strip() for part in _ENDS.split(one.text)
        if len(part.split()) >= 5 and re.match(r"[A-Z7]", part) and part.rstrip()[-1:] in ".?!"
    ]  # fmt: skip


def _text(place: str, text: str) -> Iterator[Said]:
    plain = " ".join(re.sub(r"<[^>]*>", " ", text).split())
    if (" " in plain or plain[:1].isupper()) and not re.search(r"[{}]|\dpx|=>|&&|\bvar\(", plain):
        yield Said(place, plain)


def _of_python(tree: ast.Module) -> Iterator[tuple[int, str]]:
    unseen = {id(doc) for node in ast.walk(tree) if (doc := _documentation(node)) is not None}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            unseen |= {id(value) for value in ast.walk(node) if isinstance(value, ast.Constant)}
            yield (
                node.lineno,
                "".join(str(v.value) if isinstance(v, ast.Constant) else "7" for v in node.values),
            )
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in unseen:
            yield node.lineno, re.sub(r"\{[^{}]*\}", "7", node.value)


def _documentation(node: ast.AST) -> ast.Constant | None:
    if (
        not isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        or not node.body
    ):
        return None
    first = node.body[0]
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
        return first.value
    return None
