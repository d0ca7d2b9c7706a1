"""A tray as a page: its files, what is asked of them, what would come in, what came in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from dashboard.records.heaps import LOOK, MEND
from dashboard.records.trays.tray import ASKED, FAILED, GATHERING, KEPT, READ, Tray
from dashboard.serving.bringing import asking, differing, frame
from dashboard.wording.figures import counted

HEAPS = {MEND: "To mend: set aside, not in the records", LOOK: "To look at: in the records as it stands"}


def address(one: Tray, does: str = "") -> str:
    return f"{frame.HOME}/trays/{one.id}" + (f"/{does}" if does else "")


def state_of(one: Tray) -> str:
    """How far a tray has come, in a few words."""
    if one.stage == ASKED:
        return f"{counted(len(asking.groups(one.found['questions'])), 'question')} to answer"
    return {
        GATHERING: "not read yet", READ: "read, and not kept yet", KEPT: "kept", FAILED: "could not be read"
    }.get(one.stage, "cannot come in as it is")  # fmt: skip


def doing(one: Tray, what: str, ahead: int) -> Markup:
    """While it is read or kept; the page's script asks how it goes."""
    words = "Putting it into the records" if what == "keeping" else "Reading"
    return Markup(
        '<p class="good" id="doing" role="status" data-ask="{}">{} {}. <span id="seconds"></span>{}</p>'
        "<p><progress aria-label='{}'></progress></p><p>You may close this page. It goes on, and you find it again under Records.</p>{}"
    ).format(address(one, "doing"), words, ", ".join(one.files), f" {ahead} before it." if ahead else "", words, _files(one))  # fmt: skip


def body(one: Tray, notice: str = "", titled: str = "") -> Markup:
    """What a tray that is at rest has to say. ``notice``: what happened meanwhile; ``titled``: the records' own name."""
    made = {ASKED: _asked, READ: _read, KEPT: _kept}.get(one.stage, _stuck)
    return frame.said(notice) + made(one, titled)


def _asked(one: Tray, _titled: str) -> Markup:
    found = one.found
    later = found["later"]
    parts = [
        Markup("<p>{} Nothing is guessed; your answers are used again next week.</p>").format(
            f"{counted(len(asking.groups(found['questions'])), 'question')} before these sheets can be read." + (" Then come some more." if later else "")
        ),
        *(frame.said(line) for line in found["told"]),
        asking.form(found["questions"], address(one, "answers"), one.turn),
        _files(one),
        _more_files(one),
        _leave(one),
    ]  # fmt: skip
    return frame.several(parts)


def _read(one: Tray, titled: str) -> Markup:
    does = Markup('<p class="does stay">{}{}</p>').format(
        _button(one, "keep", f"Keep it in {titled}" if titled else "Keep it", "next", "differs" if one.found.get("differing") else "does"), _button(one, "leave", "Leave it", "")
    )  # fmt: skip
    return frame.several([
        Markup("<p>Look through it, then keep it. Nothing is in the records yet.</p>"),
        _account(one, differing.section(one.found.get("differing", ()), address(one, "differing"), one.turn)),
        Markup("<p class='quiet'>A wrong answer? {}</p>").format(_button(one, "ask_again", "Forget my answers for these sheets", "")),
        _files(one), _more_files(one), does,
    ])  # fmt: skip


def _kept(one: Tray, _titled: str) -> Markup:
    number = one.kept["number"]
    said = (
        f"Kept, as import {number}. New visitors of the page see it in some seconds."
        if number
        else one.kept["said"]
    )
    return frame.several([
        Markup('<p class="good" role="status">{}</p><p class="does"><a class="button next" href="{}">Bring in more</a> <a class="button" href="/">See the page</a></p>').format(said, frame.HOME),
        _account(one, differing.kept(one.found.get("differing", ()))), _files(one),
    ])  # fmt: skip


def _stuck(one: Tray, _titled: str) -> Markup:
    found = one.found
    parts = [*(frame.said(line) for line in found.get("said", []))]
    if found.get("seasons"):
        first, last = found["seasons"]
        parts.append(Markup("<p class='does'>{}</p>").format(_button(one, "longer", f"The days are right: let the records be of {first} to {last}", "next")))  # fmt: skip
    parts += [Markup("<p class='does'>{}</p>").format(_button(one, "read", "Read them again", "")), _files(one), _more_files(one), _leave(one)]  # fmt: skip
    return frame.several(parts)


def _account(one: Tray, values: Markup) -> Markup:
    """The sum, what is new, the ``values`` that differ, and the three heaps."""
    found = one.found
    counts, came = found["counts"], found["came"]
    new = [f"{counted(count, 'row')} of {name}" for name, count in came.items() if count]
    good, samples = found["fine"]
    lost = counts["filled"] - counts["read"] - counts["aside"] - counts["unused"]
    parts = [
        _sum(counts),
        frame.said(f"{lost:,} cells are not accounted for; keep your sheets, and tell whoever looks after this program." if lost else ""),
        Markup("<p>{}</p>").format(f"New: {', '.join(new)}." if new else "Nothing in it is new."),
        Markup("<p>New cultivars, named as the sheets have them: <b>{}</b></p>").format(", ".join(found["cultivars"][:40])) if found["cultivars"] else Markup(""),
        *(Markup("<p>{}</p>").format(line) for line in found.get("rescaled", ())),
        values,
        *(_heap(name, found["heaps"][name]) for name in (MEND, LOOK)),
        Markup("<h2>Fine</h2><p>{}</p>").format(f"Nothing is odd about {good:,} of {counted(samples, 'new sample')}." if samples else "No sample is new."),
    ]  # fmt: skip
    if found["aside"]:
        parts.insert(3, Markup("<p class='does'><a class='button' href='{}' download>Take what was set aside</a> <span class='quiet'>{}</span></p>").format(
            address(one, "set_aside.xlsx"), "A sheet, a cell a row. Write what is right into its last column, and bring it together with the same files."
        ))  # fmt: skip
    return frame.several(parts)


def _sum(counts: Mapping[str, int]) -> Markup:
    told = (("read", "read", ""), ("aside", "set aside", "aside" if counts["aside"] else ""), ("unused", "declared as not used", ""))  # fmt: skip
    items = frame.several(
        Markup("<li class='{}'><b>{}</b>{}</li>").format(kind, f"{counts[name]:,}", words)
        for name, words, kind in told
    )
    return Markup("<h2>What became of {} filled cells</h2><ul class='sum'>{}</ul>").format(f"{counts['filled']:,}", items)  # fmt: skip


def _heap(name: str, heap: Mapping[str, Any]) -> Markup:
    if not heap["lines"]:
        return Markup("<h2>{}</h2><p>Nothing.</p>").format(HEAPS[name])
    lines = frame.several(Markup("<li>{}</li>").format(line) for line in heap["lines"])
    more = f"And {heap['more']:,} more causes." if heap["more"] else ""
    return Markup("<h2>{} ({})</h2><ul class='causes'>{}</ul><p>{}</p>").format(HEAPS[name], counted(heap["places"], "place"), lines, more)  # fmt: skip


def _files(one: Tray) -> Markup:
    return Markup('<p class="quiet">Files: {}. Brought by {}.</p>').format(", ".join(one.files) or "none", one.who)  # fmt: skip


def _more_files(one: Tray) -> Markup:
    return Markup('<details><summary>Add a file, or a corrected one</summary>{}</details>').format(drop(one.id))  # fmt: skip


def _leave(one: Tray) -> Markup:
    return Markup('<p class="does">{} <span class="quiet">Your own files stay where they are.</span></p>').format(_button(one, "leave", "Leave these files", ""))  # fmt: skip


def _button(one: Tray, does: str, words: str, kind: str, form: str = "does") -> Markup:
    return Markup('<button formmethod="post" form="{}" formaction="{}" class="{}">{}</button>').format(form, address(one, does), kind, words)  # fmt: skip


def drop(tray: str = "") -> Markup:
    """Where files are dropped or chosen; ``tray``: the one they go to, else a new one."""
    return Markup("""<div class="drop" id="drop" data-home="{}" data-tray="{}">
<p><label>Drop your sheets here, or choose them: <input type="file" id="files" multiple accept=".xlsx,.csv,.txt,.tsv"></label></p>
<p class="quiet">Workbooks (.xlsx) and text files (.csv, .txt), as you keep them. They are never changed.</p>
<ul class="plain" id="going"></ul><p id="said" class="notice" role="alert" hidden></p>
<noscript><p class="notice">Bringing files needs JavaScript. The command  orchard-slate import  does the same.</p></noscript></div>""").format(frame.HOME, tray)  # fmt: skip


DOES = Markup(
    '<form id="does" method="post"></form>'
)  # the buttons stand outside of it, anywhere on the page
