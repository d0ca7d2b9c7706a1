"""What a script sends is heard, what is sent to it goes out, and the browser fetches and keeps the script."""

from __future__ import annotations

import re

import param
from bokeh.document import Document
from panel.models.esm import DataEvent

from dashboard.page.hall.view import Hall
from dashboard.page.parts.elements import RowTable
from dashboard.page.patches.scripted import Element, joined


class Bell(Element):
    script = RowTable.script
    dress = ("p { color: red; }",)
    told = param.String(default="")

    def heard(self, msg):
        self.rung = msg


def test_a_message_of_the_browser_s_is_heard():
    bell, document = Bell(), Document()
    document.add_root(bell.get_root(document))
    (model,) = document.roots
    model._trigger_event(DataEvent(model=model, data={"ring": 2}))
    assert bell.rung == {"ring": 2}


def test_what_is_sent_goes_to_the_browser():
    bell, document, heard = Bell(), Document(), []
    document.add_root(bell.get_root(document))
    document.on_change(heard.append)
    bell.send({"file": "list.csv"})
    (event,) = heard
    assert event.msg_type == "bokeh_event"
    assert event.msg_data.data == {"file": "list.csv"}


def test_its_script_is_named_as_what_is_fetched_and_as_what_a_notebook_carries():
    root = Bell().get_root(Document())
    assert root.bundle
    assert root.esm == Bell.script.read_text(encoding="utf-8")
    assert Bell.dress[0] in root.stylesheets
    assert root.data.told == ""


def test_a_script_s_parts_are_handed_out_beside_it_and_a_notebook_carries_all_as_one():
    text = joined(*Hall.parts, Hall.script)
    assert "import " not in "".join(line for line in text.splitlines() if line.startswith("import"))
    places = [text.index(f"export {what}") for what in ("const make", "function keys", "function render")]
    assert places == sorted(places)
    assert set(Hall._js) == {*Hall.parts, Hall.script}
    imported = re.findall(
        r'^import .* from "\./(\w+\.js)";$', Hall.script.read_text(encoding="utf-8"), re.MULTILINE
    )
    assert imported
    assert set(imported) <= {part.name for part in Hall.parts}
    assert Hall._render_esm(server=False) == text
    assert Hall._render_esm(server=True).endswith("/Hall/_js/hall.js")
