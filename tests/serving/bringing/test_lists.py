"""A list of several tables in the form: each under its name, and which of how many lists it is."""

from __future__ import annotations

from dashboard.serving.bringing.asking import answers, field_of, form


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


def test_a_line_of_several_sheets_has_one_field_and_each_sheet_its_own_which_counts():
    asked = [
        {**one, "line": ["A", "Seam", "“61”"]} for name in ("a.csv", "b.csv") for one in table(name, 1)
    ] + table("c.csv", 1)
    told = str(form(asked, "/x", 1))
    assert told.count("a.csv, b.csv</th>") == 1
    of_both = field_of(("each", *(tuple(one["path"]) for one in asked[:2])))
    of_second = field_of(asked[1]["path"])
    assert told.count(f'name="{of_both}"') == told.count(f'name="{of_second}"') == 1
    paths = [tuple(one["path"]) for one in asked[:2]]
    assert answers(asked, lambda name: {of_both: "cross"}.get(name, "")) == dict.fromkeys(paths, "cross")
    assert answers(asked, lambda name: {of_both: "cross", of_second: "suture"}.get(name, "")) == {paths[0]: "cross", paths[1]: "suture"}  # fmt: skip


def test_of_a_list_what_is_shown_is_confirmed_and_what_is_open_has_a_field():
    shown, open_ = (
        {**one, "alike": ["units", one["alike"][1], quantity], "proposal": proposal, "offer": proposal, "becomes": becomes, "options": ["mm", "in"]}
        for one, quantity, proposal, becomes in zip(table("a.csv", 2), ("diameters", "firmness"), ("mm", ""), ("mm", "mm: 2 mm; in: 61 mm"), strict=True)
    )  # fmt: skip
    told = str(form([shown, open_], "/x", 1))
    assert "yes, each as shown" in told
    assert told.index("Choose for each of these") < told.index("(mm: 2 mm; in: 61 mm)")
    assert f'name="{field_of(open_["path"])}"' in told
