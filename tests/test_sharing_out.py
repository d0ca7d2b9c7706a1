"""Each worker stays with its kind of file while there is any, and nothing is left undone."""

from __future__ import annotations

from collections import OrderedDict

from dashboard.places import PACKAGE
from tests.sharing_out import BROWSER, LONG, ByKind


class Worker:
    def send_runtest_some(self, places: list[int]) -> None:
        """Nothing is run here."""


def handed_out(files: list[str], workers: int) -> list[list[str]]:
    """What each worker gets when they take a file in turn."""
    nodes = [Worker() for _ in range(workers)]
    sharing = object.__new__(ByKind)  # without a run to share out
    sharing.workqueue = OrderedDict((name, {f"{name}::test": False}) for name in files)
    sharing.assigned_work = {node: {} for node in nodes}
    sharing.registered_collections = {node: [f"{name}::test" for name in files] for node in nodes}
    for turn in range(len(files)):
        sharing._assign_work_unit(nodes[turn % workers])
    assert not sharing.workqueue
    return [list(sharing.assigned_work[node]) for node in nodes]


def test_the_first_worker_takes_what_drives_a_browser_and_then_helps():
    files = ["tests/a.py", BROWSER + "b.py", "tests/c.py", "tests/d.py", LONG[0], LONG[-1], "tests/e.py"]
    first, second, last = handed_out(files, 3)
    assert first == [LONG[0], BROWSER + "b.py", "tests/e.py"]
    assert second == [LONG[-1], "tests/c.py"]
    assert last == ["tests/a.py", "tests/d.py"]


def test_one_worker_alone_does_one_kind_after_the_other():
    (all_of_it,) = handed_out([BROWSER + "a.py", "tests/b.py", BROWSER + "c.py", "tests/d.py"], 1)
    assert all_of_it == [BROWSER + "a.py", BROWSER + "c.py", "tests/b.py", "tests/d.py"]


def test_the_long_files_are_there():
    assert [name for name in LONG if not (PACKAGE.parent / name).is_file()] == []
