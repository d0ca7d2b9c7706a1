"""The documents as a site that needs no internet: ``python docs/web/make.py OUT``; without OUT into ``docs/web/build``.

Every notebook is run and becomes a page of its own under ``papers``. A link that leads nowhere is a fault, and ends the run.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
# In the order in which they are read; those that are the page itself are no paper.
PAPERS = {
    "tour": "A tour: from trial records to an order",
    "mixed_model": "What a mixed model does for a cultivar trial",
    "own_page": "A page of your own",
}
ASKED_FOR = "<!-- papers -->"


def paper(notebook: object) -> str:
    """A notebook that was run, as one page. The exporter's own two libraries, for formulas and old widgets, are left out: both would
    come from the internet, and nothing here needs them."""
    from nbconvert import HTMLExporter

    return HTMLExporter(require_js_url="", mathjax_url="").from_notebook_node(notebook)[0]


def papers() -> Mapping[str, str]:
    """Each of ``PAPERS``, run from top to bottom in an empty folder."""
    import nbclient
    import nbformat

    made = {}
    for name in PAPERS:
        notebook = nbformat.read(ROOT / "notebooks" / f"{name}.ipynb", as_version=4)
        with tempfile.TemporaryDirectory() as elsewhere:
            resources = {"metadata": {"path": elsewhere}}
            nbclient.NotebookClient(
                notebook, timeout=300, kernel_name="python3", resources=resources
            ).execute()
        made[name] = paper(notebook)
    return made


def gather(source: Path, made: Mapping[str, str]) -> None:
    """The documents as they lie in the project, so that every link between them leads where it leads there."""
    (source / "docs").mkdir(parents=True)
    for place in (ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))):
        shutil.copy(place, source / place.relative_to(ROOT))
    shutil.copy(ROOT / "docs" / "LICENSE", source / "docs" / "LICENSE")
    for folder in ("docs/pictures", "docs/deploy", "notebooks"):
        shutil.copytree(ROOT / folder, source / folder, ignore=shutil.ignore_patterns(".*"))
    shutil.copy(HERE / "conf.py", source / "conf.py")
    (source / "dress").mkdir()
    shutil.copy(HERE / "custom.css", source / "dress" / "custom.css")
    (source / "papers" / "papers").mkdir(parents=True)
    for name, text in made.items():
        (source / "papers" / "papers" / f"{name}.html").write_text(text, encoding="utf-8")
    lines = "\n".join(f'<p><a href="papers/{name}.html">{PAPERS[name]}</a></p>' for name in made)
    index = (HERE / "index.md").read_text(encoding="utf-8")
    (source / "index.md").write_text(index.replace(ASKED_FOR, lines), encoding="utf-8")


def make(out: Path, made: Callable[[], Mapping[str, str]] = papers) -> int:
    """The site in ``out``, in the place of what was there; 0, or another number where a link leads nowhere."""
    with tempfile.TemporaryDirectory() as place:
        source = Path(place) / "source"
        gather(source, made())
        shutil.rmtree(out, ignore_errors=True)
        command = [
            sys.executable,
            "-m",
            "sphinx",
            "-W",
            "--keep-going",
            "-q",
            "-n",
            "-b",
            "html",
            "-d",
            str(Path(place) / "read"),
        ]
        return subprocess.run([*command, str(source), str(out)]).returncode


if __name__ == "__main__":
    sys.exit(make(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "build"))
