"""A notebook of one's own as a page: its cells run for each visitor, and what goes wrong in one is told there with its line."""

from __future__ import annotations

import json
import linecache
import logging
import re
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, ModuleType

from bokeh.document import Document
from panel.io.application import Application
from panel.io.handlers import FunctionHandler

from dashboard.calls.records import load
from dashboard.page.own import Faults, show, told_on_the_page
from dashboard.page.tabs.own import fault_told

LARGEST = 50_000_000  # bytes
NO_PAGE = "This notebook shows no page; end it with  show(records).servable()  to put your own tabs here."
# Lines that are not Python: magics, commands of the system, questions.
_JUPYTER_ALONE = re.compile(r"^(\s*)(?:[%!].*|\w[\w.]*\?+\s*)$")
log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Cell:
    """What runs, under the name that a fault is told by; ``fault`` where it is no Python."""

    code: CodeType | None
    fault: str = ""


class OwnNotebook:
    """Read once, when the server starts; ValueError, one sentence, for what is no notebook."""

    def __init__(self, path: Path):
        self.cells = tuple(
            _cell(f"{path.name}, cell {at}", source) for at, source in enumerate(sources(path), 1) if source
        )
        self.folder = path.resolve().parent

    def application(self) -> Application:
        return Application(FunctionHandler(self.show))

    def show(self, document: Document) -> None:
        """Run the cells for one visitor. A cell that fails leaves the others to run; without a page of its own the usual one stands in."""
        module, faults = ModuleType("__main__"), Faults()
        with told_on_the_page(faults):
            for cell in self.cells:
                try:
                    if cell.fault:
                        faults.add(cell.fault)
                    elif cell.code is not None:
                        exec(cell.code, module.__dict__)
                except Exception as fault:
                    log.warning("a cell of a notebook failed", exc_info=fault)
                    faults.add(fault_told(fault))
            if not document.roots:
                if not faults.sentences:
                    faults.add(NO_PAGE)
                show(load()).servable()


def sources(path: Path) -> list[str]:
    """The code cells of a notebook; ValueError, one sentence, for what is none."""
    if path.suffix.lower() != ".ipynb":
        raise ValueError(f"{path}: a notebook's name ends in .ipynb.")
    try:
        if path.stat().st_size > LARGEST:
            raise ValueError(
                f"{path}: is larger than the {LARGEST // 1_000_000} MB a notebook may be; clear its outputs."
            )
        read = json.loads(path.read_text("utf-8"))
        cells = [cell for cell in read["cells"] if cell["cell_type"] == "code"]
        found = ["".join(cell["source"]) for cell in cells]
    except OSError as fault:
        raise ValueError(
            f"{path}: cannot be read ({fault.strerror}); name a notebook that is there."
        ) from None
    except (UnicodeDecodeError, json.JSONDecodeError, KeyError, TypeError, RecursionError):
        raise ValueError(
            f"{path}: is no notebook as Jupyter writes it; open it there and save it again."
        ) from None
    if not any(map(str.strip, found)):
        raise ValueError(
            f"{path}: has no cell with code; write one to start from with  orchard-slate notebook new.ipynb"
        )
    return found


def _cell(name: str, source: str) -> Cell:
    """Lines that only Jupyter knows are left out, and the others keep their numbers."""
    lines = [_JUPYTER_ALONE.sub(r"\1pass", line) for line in source.split("\n")]
    lines = [""] * len(lines) if source.startswith("%%") else lines
    text = "\n".join(lines)
    linecache.cache[name] = (len(text), None, [f"{line}\n" for line in lines], name)
    try:
        return Cell(compile(text, name, "exec"))
    except (SyntaxError, ValueError) as fault:
        return Cell(None, fault_told(fault))
