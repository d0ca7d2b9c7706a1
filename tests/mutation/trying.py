"""Tries mutants: in one run of pytest, whose tests are collected once, each mutant gets a forked process of its own."""

from __future__ import annotations

import ast
import functools
import importlib.machinery
import os
import sys
import time
import types
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import coverage
import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.mutation.forks import forked
from tests.mutation.mutants import ROOT, Mutant

GUARD = "shared_catalogue_stays_as_it_was"
LONGEST = 8.0  # processor seconds of a test that is still run for each mutant
OPTIONS = (
    "-q",
    "-s",
    "-x",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:playwright",
    "-m",
    "not browser and not slow",
)


@dataclass(frozen=True)
class Outcome:
    """``by``: the test that failed; "time" for one that never ended, "" where no test failed."""

    mutant: Mutant
    by: str
    asked: int  # how many tests reach the changed lines


def tried(
    mutants: Sequence[Mutant], tests: Sequence[str], jobs: int, told: Callable[[str], None]
) -> list[Outcome]:
    """What became of each mutant under ``tests`` (files, folders or single tests), in order."""
    os.environ["ORCHARD_SLATE_CACHE"] = "off"  # what a mutant works out is nobody's answer
    settings.register_profile(
        "mutation",
        derandomize=True,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
        phases=(Phase.explicit, Phase.generate),
    )
    settings.load_profile("mutation")
    trial = _Trial(mutants, jobs, told)
    code = pytest.main([*OPTIONS, *tests], plugins=[_Small(), trial])
    if code not in (0, pytest.ExitCode.NO_TESTS_COLLECTED) or len(trial.outcomes) < len(mutants):
        raise RuntimeError(f"the tests of {', '.join(tests)} could not be collected")
    return trial.outcomes


class _Small:
    """Leaves out the tests that read the demo records, and the guard that reads them for each run."""

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        small = []
        for item in items:
            found = item._fixtureinfo.name2fixturedefs  # type: ignore[attr-defined]
            asked = {
                name for key, made in found.items() if key != GUARD for one in made for name in one.argnames
            }
            if "demo" in asked | set(item._fixtureinfo.argnames):  # type: ignore[attr-defined]
                continue
            item.fixturenames[:] = [name for name in item.fixturenames if name not in (GUARD, "demo")]  # type: ignore[attr-defined]
            small.append(item)
        items[:] = small


class _Trial:
    def __init__(self, mutants: Sequence[Mutant], jobs: int, told: Callable[[str], None]) -> None:
        self.mutants, self.jobs, self.told = mutants, jobs, told
        self.outcomes: list[Outcome] = []
        self.failed = ""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and not self.failed:
            self.failed = report.nodeid

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        reach, cost = self._reached(session)
        order = _order(session.items, cost)
        work = []
        chosen: dict[int, list[pytest.Item]] = {}
        for place, mutant in enumerate(self.mutants):
            lines = {(mutant.file, line) for line in range(mutant.lines[0], mutant.lines[1] + 1)}
            asked = set().union(*(reach.get(line, set()) for line in lines))
            afresh = not mutant.function
            chosen[place] = [
                item for item in order if item.nodeid in cost and (afresh or item.nodeid in asked)
            ]
            if chosen[place]:
                seconds = 10 + 5 * sum(cost[item.nodeid] for item in chosen[place])
                work.append((place, functools.partial(self._killed_by, mutant, chosen[place]), seconds))
            else:
                self.told(f"nobody reaches  {mutant}")
        by = dict.fromkeys(range(len(self.mutants)), "")
        for place, answer in forked(work, self.jobs):
            by[place] = "time" if answer is None else str(answer)
            if not by[place]:
                self.told(f"nobody noticed  {self.mutants[place]}")
        self.outcomes = [
            Outcome(one, by[place], len(chosen[place])) for place, one in enumerate(self.mutants)
        ]
        return True

    def _reached(self, session: pytest.Session) -> tuple[dict[tuple[str, int], set[str]], dict[str, float]]:
        """By file and line the tests that come by; by test its processor seconds. Each test is run alone, as it is for a mutant."""
        reach: dict[tuple[str, int], set[str]] = defaultdict(set)
        cost = {}
        work = [(item, functools.partial(self._covered, item), LONGEST) for item in session.items]
        for item, answer in forked(work, self.jobs):
            if answer is None or answer[0]:  # type: ignore[index]
                self.told(f"left out, red or slow without any mutant: {item.nodeid}")
                continue
            _, cost[item.nodeid], lines = answer  # type: ignore[misc]
            for line in lines:
                reach[line].add(item.nodeid)
        return reach, cost

    def _covered(self, item: pytest.Item) -> tuple[str, float, list[tuple[str, int]]]:
        places = {str(ROOT / mutant.file): mutant.file for mutant in self.mutants}
        began = time.process_time()
        watch = coverage.Coverage(data_file=None, config_file=False, include=list(places))
        watch.start()
        self._run([item])
        watch.stop()
        data = watch.get_data()
        lines = [(places[path], line) for path in data.measured_files() for line in data.lines(path) or ()]
        return self.failed, time.process_time() - began, lines

    def _run(self, items: list[pytest.Item]) -> str:
        for item, after in zip(items, [*items[1:], None], strict=True):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
            if self.failed:
                break
        return self.failed

    def _killed_by(self, mutant: Mutant, items: list[pytest.Item]) -> str:
        if mutant.function and _put_in_place(mutant):
            return self._run(items)
        _import_changed(mutant)
        self.failed = ""
        code = pytest.main([*OPTIONS, *(item.nodeid for item in items)], plugins=[_Small(), self.watcher()])
        return "" if code == 0 else self.failed or "import"

    def watcher(self) -> object:
        """Only the ear of this plugin, for a run inside of the run."""
        return types.SimpleNamespace(pytest_runtest_logreport=self.pytest_runtest_logreport)


def _order(items: Sequence[pytest.Item], cost: dict[str, float]) -> list[pytest.Item]:
    """The cheapest files first, and in them the cheapest tests: most mutants fall at the first."""
    total: dict[str, float] = defaultdict(float)
    for item in items:
        total[str(item.path)] += cost.get(item.nodeid, 0.0)
    return sorted(items, key=lambda item: (total[str(item.path)], str(item.path), cost.get(item.nodeid, 0.0)))


def _module(mutant: Mutant) -> str:
    return mutant.file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def _put_in_place(mutant: Mutant) -> bool:
    """Whether the function that everybody holds already could be given the changed code."""
    held: object = sys.modules.get(_module(mutant))
    if held is None:
        return False
    for name in mutant.function.split("."):
        held = vars(held).get(name)  # type: ignore[arg-type]
    for inner in ("func", "fget", "__func__", "__wrapped__"):
        held = getattr(held, inner, held)
    codes = [compile(ast.parse(mutant.source), str(ROOT / mutant.file), "exec", dont_inherit=True)]
    for code in codes:
        if code.co_qualname == mutant.function and isinstance(held, types.FunctionType):
            if code.co_freevars != held.__code__.co_freevars:
                return False
            held.__code__ = code
            return True
        codes += [one for one in code.co_consts if isinstance(one, types.CodeType)]
    return False


def _import_changed(mutant: Mutant) -> None:
    """Forgets the package and its tests; the next import of the file finds the changed text."""
    for name in [name for name in sys.modules if name.split(".")[0] in ("dashboard", "tests", "conftest")]:
        if not name.startswith("tests.mutation") and name != "tests":
            del sys.modules[name]
    usual = importlib.machinery.SourceFileLoader.get_code
    module, path = _module(mutant), str(ROOT / mutant.file)

    def get_code(self: importlib.machinery.SourceFileLoader, fullname: str) -> types.CodeType | None:
        if fullname == module:
            return compile(mutant.source, path, "exec", dont_inherit=True)
        return usual(self, fullname)

    importlib.machinery.SourceFileLoader.get_code = get_code  # type: ignore[method-assign]
