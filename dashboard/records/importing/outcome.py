"""What is told after sheets came in, or where something has to be answered first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from dashboard.records.causes import gathered, in_short
from dashboard.records.exchanged import once
from dashboard.records.importing.aside import NAME, REPLACE
from dashboard.records.importing.changed import LOG
from dashboard.records.importing.differs import Differs
from dashboard.records.importing.joined import Joined
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import DIFFERING, Question
from dashboard.records.importing.merged import Merged
from dashboard.records.importing.right import by_file, shown
from dashboard.records.importing.trial import INTO
from dashboard.records.odd_samples import NO_FRUIT
from dashboard.records.problems import Problem, RecordError, seen
from dashboard.records.reading import read
from dashboard.records.report import written
from dashboard.records.schema import TABLES

_NAMED = 5  # new cultivars that the last lines name
_SHOWN = 20  # values that were replaced


@dataclass
class Outcome:
    """``text`` for a terminal; ``code``: 0 where all was read, 1 where something was set aside or left open.

    For another screen: ``told``, which sheets have another shape than before; ``came``, new rows by table; ``cultivars`` and ``samples``, the
    new ones by name; ``odd``, what the check says of the rows that came in; ``seasons``, the first and last of a trial that would take what was
    refused; ``differing``, values that the trial has otherwise and may be replaced, and ``replaced`` those that were; ``alike``, how many values
    of their samples say the same; ``rescaled``, which ratings are kept on another scale.
    """

    text: str
    code: int
    questions: list[Question] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    came: dict[str, int] = field(default_factory=dict)
    cultivars: list[str] = field(default_factory=list)
    samples: list[str] = field(default_factory=list)
    odd: list[Problem] = field(default_factory=list)
    seasons: tuple[int, ...] = ()
    differing: list[Differs] = field(default_factory=list)
    replaced: list[Differs] = field(default_factory=list)
    alike: Mapping[tuple[str, str], int] = field(default_factory=dict)
    rescaled: list[str] = field(default_factory=list)


def left_open(
    place: Path, questions: list[Question], told: Sequence[str], problems: list[Problem]
) -> Outcome:
    """The questions, and where they are to be answered."""
    lines = [*([written(gathered(problems))] if problems else []), *told]
    for question in questions[:20]:
        lines.append(f"ask    {question.about}: {question.asks}")
        lines += question.shown
    if len(questions) > 20:
        lines.append(f"       and {len(questions) - 20:,} more")
    one = len(questions) == 1
    count = "1 question is open. It stands" if one else f"{len(questions):,} questions are open. They stand"
    lines.append(f"Nothing was read yet: {count} in {place}; answer {'it' if one else 'them'} there and run the command again.")  # fmt: skip
    return Outcome("\n".join(lines), 1, questions, problems=problems, told=list(told))


def report(
    trial: Path,
    waits: tuple[Path, int],
    problems: Sequence[Problem],
    ours: Merged,
    others: Joined,
    ledger: Ledger,
    odd: Sequence[Problem] = (),
    rescaled: Sequence[str] = (),
) -> Outcome:
    """What came into the trial, and what became of every cell; ``waits``: where cells wait to be put right, and how many; ``odd``: what the
    check says of the rows that came in."""
    problems = [*problems, *ledger.problems()]
    told = {problem.rule for problem in problems}
    differ = {one.rule for one in ledger.differing}  # told together, old and new beside each other
    rest = once(problem for problem in problems if problem.rule not in differ)
    causes = in_short([*rest, *(problem for problem in odd if problem.rule not in told)])
    flags = sum(problem.severity != "error" for problem in causes)
    errors = len(causes) - flags + len(by_file(ledger.differing))
    counts = ledger.counts()
    lines = [*([written(causes)] if causes else []), *_of_values(ledger)]
    came = {name: [part.coming[name].rows for part in (ours, others) if name in part.coming] for name in TABLES}  # fmt: skip
    sites = [str(name) for rows in came["sites"] for name in rows.get("site", [])]
    if sites:
        lines.append(f"{len(sites):,} new {'site' if len(sites) == 1 else 'sites'}: {', '.join(sites)}")
    new = [name for rows in came["cultivars"] for name in rows.get("cultivar", [])]
    if new:
        lines.append(f"{len(new):,} new {'cultivar' if len(new) == 1 else 'cultivars'}: {_some(new)}")
    lines += rescaled
    if waits[1]:
        lines.append(f"{waits[1]:,} {'cell waits' if waits[1] == 1 else 'cells wait'} in {waits[0]}: write beside them what is right, and run the command again.")  # fmt: skip
    lines += _to_do(trial, ledger)
    if odd:
        lines.append(f"{len(odd):,} {'place' if len(odd) == 1 else 'places'} to look at: orchard-slate check {trial}")  # fmt: skip
    rows = {name: sum(map(len, parts)) for name, parts in came.items()}
    more = "".join(f", {count:,} new rows of {name}" for name, count in rows.items() if name not in INTO and count)  # fmt: skip
    if rows["beyond"]:
        more = (
            f", {rows['beyond']:,} new {'reading' if rows['beyond'] == 1 else 'readings'} past an end{more}"
        )
    filled = sum(len(part.coming[name].filled) for part in (ours, others) for name in part.coming) - len(ledger.replaced)  # fmt: skip
    more += f", {filled:,} {'cell' if filled == 1 else 'cells'} filled that were empty" if filled > 0 else ""
    lines.append(
        f"into {trial}: {rows['samples']:,} new samples of {others.appearances + ours.samples:,} in the sheets, "
        f"{rows['fruit']:,} new fruit, {rows['means']:,} new means{more}"
    )
    lost = counts["filled"] - counts["read"] - counts["aside"] - counts["unused"]
    last = (
        f"{errors:,} {'error' if errors == 1 else 'errors'}, {flags:,} {'flag' if flags == 1 else 'flags'}; "
        f"{counts['filled']:,} filled cells: {counts['read']:,} read, {counts['aside']:,} set aside, {counts['unused']:,} declared as not used"
    )
    lines.append(last + (f", {lost:,} not accounted for" if lost else ""))
    samples = [str(name) for frame in came["samples"] for name in frame.get("sample", [])]
    return Outcome(
        "\n".join(lines), int(errors > 0), counts=counts, problems=problems, came=rows, cultivars=list(map(str, new)), samples=samples, odd=list(odd),
        differing=ledger.differing, replaced=[*ledger.replaced, *ledger.chosen], alike=ledger.alike, rescaled=list(rescaled),
    )  # fmt: skip


def with_before(problems: list[Problem], outcome: Outcome) -> Outcome:
    """The outcome after what was found in the trial before anything came in."""
    if not problems:
        return outcome
    return replace(
        outcome, text=f"{written(problems)}\n{outcome.text}", code=1, problems=[*problems, *outcome.problems]
    )


def _of_values(ledger: Ledger) -> list[str]:
    """What differs from the trial, and what was replaced, a line a value."""
    lines = []
    for file, same in by_file(ledger.differing).items():
        places = "1 value differs" if len(same) == 1 else f"{len(same):,} values differ"
        lines.append(f"error  {seen(file)}: {places} from what stands already; what stands is kept.")
        lines += shown(same, ledger.alike)
    return [
        *lines,
        *(
            f"changed  {seen(one.file)}, {seen(one.became)}"
            for one in [*ledger.replaced, *ledger.chosen][:_SHOWN]
        ),
    ]


def _some(names: Sequence[str]) -> str:
    """The names; of a long list, which was shown when it was confirmed, the first."""
    more = f" and {len(names) - _NAMED:,} more" if len(names) > _NAMED + 1 else ""
    return ", ".join(names[:_NAMED] if more else names) + more


def _to_do(trial: Path, ledger: Ledger) -> list[str]:
    lines = [
        f"{seen(file)}: {'1 value was' if len(same) == 1 else f'{len(same):,} values were'} corrected before, so what stands is kept."
        for file, same in by_file(ledger.repeated).items()
    ]
    if count := len(ledger.replaced):
        lines.append(f"{count:,} {'value' if count == 1 else 'values'} replaced, as was said; {trial / LOG} has what stood before.")  # fmt: skip
    if ledger.differing:
        lines.append(
            f"If a file is right where it differs, say so under [{DIFFERING}] in mapping.toml. Or write “{REPLACE}” beside the cell in {NAME}. Then run the command again."
        )  # fmt: skip
    return lines


def odd_now(folder: Path, stood: Mapping[str, int], ledger: Ledger) -> list[Problem]:
    """What the check finds odd in the rows below those that ``stood`` in each table, and of samples of which a value was replaced."""
    try:
        found = read(folder).problems
    except RecordError:  # a trial that cannot be shown yet has nothing to compare with
        return []
    below = {f"{name}.csv": rows + 1 for name, rows in stood.items()}
    again = {(f"{one.table}.csv", one.key[0]) for one in ledger.replaced}
    return [
        one for one in found
        if one.severity == "flag" and not (one.rule == NO_FRUIT and one.value in ledger.uncounted) and ((one.file in below and (one.row or 0) > below[one.file]) or (one.whose and (one.file, one.whose.sample) in again))
    ]  # fmt: skip
