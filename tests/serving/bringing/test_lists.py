"""A list of several tables in the form: each under its name, and which of how many lists it is."""

from __future__ import annotations

from dashboard.serving.bringing.asking import form


def table(name: str, columns: int) -> list[dict[str, object]]:
    return [
        {
            "path": ["layout", name, number, "is"], "asks": "which?", "options": ["suture", "cross"], "offer": "suture", "proposal": "suture",
            "alike": ["columns", name], "line": ["A", f"{name[0]}{number}", "“61”"], "not_understood": "",
        }
        for number in range(columns)
    ]  # fmt: skip


def test_tables_that_are_asked_about_together_have_their_names_above():
    told = str(form([*table("a & b.csv", 10), *table("c.csv", 12), *table("d.csv", 20)], "/x", 1))
    assert told.count("<th") == 2
    assert "a &amp; b.csv</th>" in told
    assert "is each of these what stands beside it? (list 1 of 2)".capitalize() in told
    assert "d.csv: is each of these what stands beside it? (list 2 of 2)" in told
