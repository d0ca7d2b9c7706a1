"""What is remembered of the libraries is what they say; what can be changed is never shared."""

from __future__ import annotations

import pytest
from bokeh.core.has_props import HasProps
from bokeh.core.properties import Dict, Int, List, Override, String
from bokeh.core.property.descriptors import PropertyDescriptor
from bokeh.model import Model
from bokeh.models import LinearAxis, Scatter
from bokeh.themes import Theme
from panel.io.resources import Resources
from panel.io.state import state

from dashboard.page.patches import remembered

PATCHED = (
    (HasProps, "_overridden_defaults"),
    (PropertyDescriptor, "has_unstable_default"),
    (PropertyDescriptor, "_get_default"),
    (Resources, "extra_resources"),
    (HasProps, "_raise_attribute_error_with_matches"),
    (type(state), "_add_busy_event"),
    (type(state), "_remove_busy_event"),
)


class Part(Model):
    count = Int(default=3)
    words = List(String, default=["a"])
    named = Dict(String, Int)
    made = Int(default=lambda: next(NUMBERS))


class Odd(Part):
    count = Override(default=5)


NUMBERS = iter(range(1000))


@pytest.fixture(autouse=True)
def remembering(monkeypatch):
    """As long as a test runs, on top of what the libraries say."""
    for owner, name in PATCHED:
        monkeypatch.setattr(owner, name, vars(owner)[name])
    monkeypatch.setattr(remembered, "_done", set())
    remembered.remember()


def test_the_libraries_still_have_what_is_remembered():
    """Red where a library has moved it: the page would be slower, and nobody would know."""
    assert remembered._done == set(PATCHED)


@pytest.mark.parametrize("kind", [LinearAxis, Scatter, Part, Odd])
def test_every_default_is_what_the_library_says(kind):
    asked_first, asked_again = kind(), kind()
    for name in kind.properties():
        plain = kind.lookup(name).property
        for one in (asked_first, asked_again):
            if name != "made":
                assert _shown(getattr(one, name)) == _shown(plain.themed_default(kind, name, None)), name
    assert (Part().count, Odd().count) == (3, 5)


def _shown(value):
    """Two objects made alike are alike."""
    return value.properties_with_values() if isinstance(value, HasProps) else value


def test_what_can_be_changed_belongs_to_one_object():
    one, other = Part(), Part()
    one.words.append("b")
    one.named["x"] = 1
    assert other.words == Part().words == ["a"]
    assert other.named == {}


def test_what_is_made_for_each_object_is_made_for_each():
    assert Part().made != Part().made


def test_a_theme_is_heard():
    part = Part()
    assert part.count == 3
    Theme(json={"attrs": {"Part": {"count": 7}}}).apply_to_model(part)
    assert part.count == 7
    assert Part().count == 3


def test_a_value_that_was_set_stands():
    part = Part(count=9)
    assert part.count == 9
    del part.count
    assert part.count == 3


def test_the_files_of_the_page_s_elements_are_added_once_and_again():
    resources = Resources(mode="server")
    first, second, others = ["a.css"], ["a.css"], ["b.css"]
    for asked in (first, second, others):
        resources.extra_resources(asked, "_bundle_css")
    assert first == second
    assert others[1:] == first[1:]
    assert others[0] == "b.css"


def test_asking_twice_remembers_once():
    before = vars(PropertyDescriptor)["_get_default"]
    remembered.remember()
    assert vars(PropertyDescriptor)["_get_default"] is before


def test_a_name_that_is_not_there_is_refused_without_looking_for_others():
    part = Part()
    assert getattr(part, "cuont", None) is None
    with pytest.raises(AttributeError, match="cuont") as told:
        part.cuont = 1
    assert "similar" not in str(told.value)


def test_who_is_busy_is_not_written_down():
    state._add_busy_event("one")
    assert not state.busy
    state._remove_busy_event("one")
