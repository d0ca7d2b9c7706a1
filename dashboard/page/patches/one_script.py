"""The scripts of all elements as one, which the browser fetches once and keeps; each part of it runs when it is first needed.

Seen on: panel 1.9.4.
Mends: the loader of modules asks for every element's script at each opening, reads it through and hands it to the browser under an
address of its own: ten milliseconds each. A bundle may hold a script for each class, found by the class's name, but Panel builds
bundles with programs of its own.
Upstream: docs/upstream.md, "Scripts of a component".
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

AT = "scripts"
_IMPORT = re.compile(r'^import (\{[^}]*\}) from "\./([^"]+)";$', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function|const) (\w+))", re.MULTILINE)


@dataclass(frozen=True)
class OneScript:
    """``text``: a module whose default has a script for each of ``names``; ``address``: under what it is handed out."""

    names: frozenset[str]
    text: str

    @property
    def address(self) -> str:
        return f"{AT}/{hashlib.sha256(self.text.encode()).hexdigest()[:20]}.js"


def one_script(named: Mapping[str, Path], parts: Iterable[Path]) -> OneScript:
    """``named``: the script of each class, by its name; ``parts``: what these import from beside them."""
    files = sorted({*named.values(), *parts})
    number = {file: place for place, file in enumerate(files)}
    lines = ["const once = (make) => { let made; return () => (made ??= make()); };"]
    for file in files:
        text = file.read_text(encoding="utf-8")
        inside = _IMPORT.sub(
            lambda found, here=file: f"const {found[1]} = m{number[here.with_name(found[2])]}();",  # type: ignore[misc]
            _EXPORT.sub("", text),
        )
        given = ", ".join(_EXPORT.findall(text))
        lines.append(f"const m{number[file]} = once(() => {{\n{inside}\nreturn {{ {given} }};\n}});")
    whole = ", ".join(f"get {name}() {{ return m{number[named[name]]}(); }}" for name in sorted(named))
    return OneScript(frozenset(named), "\n".join([*lines, f"export default {{ {whole} }};\n"]))
