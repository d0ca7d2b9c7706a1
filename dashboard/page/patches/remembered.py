"""What the libraries work out anew for each of a page's hundreds of parts, though it never changes, is worked out once.

And what they do at every change and nobody here looks at is left out: a tenth of a change's time.

Seen on: panel 1.9.4, bokeh 3.9.2.
Mends: defaults, resources and advice on misspelled names are worked out for each object, and who is busy is written down twice a change.
Upstream: docs/upstream.md, "What is worked out anew for each part".
"""

from __future__ import annotations

from functools import cache, wraps
from typing import Any

from bokeh.core.has_props import HasProps
from bokeh.core.property.descriptors import PropertyDescriptor
from panel.io.resources import Resources
from panel.io.state import state

_done: set[tuple[type, str]] = set()
PLAIN = (type(None), bool, int, float, str)  # nobody can change these in place


def remember() -> None:
    """From now on; a library that has no such part is left as it is."""
    for owner, name, remembering in (
        (HasProps, "_overridden_defaults", _of_class),
        (PropertyDescriptor, "has_unstable_default", _instability),
        (PropertyDescriptor, "_get_default", _defaults),
        (Resources, "extra_resources", _resources),
        (HasProps, "_raise_attribute_error_with_matches", _without_advice),
        (type(state), "_add_busy_event", _nothing),
        (type(state), "_remove_busy_event", _nothing),
    ):
        plain = vars(owner).get(name)
        if plain is not None and (owner, name) not in _done:
            setattr(owner, name, remembering(plain))
            _done.add((owner, name))


def _of_class(plain: Any) -> Any:
    """The defaults that a class sets in place of its parents'."""
    known: Any = wraps(plain.__func__)(cache(plain.__func__))
    return classmethod(known)


def _instability(plain: Any) -> Any:
    """Whether a default has to be made for each object, by class and name."""
    known: dict[tuple[type, str], bool] = {}

    @wraps(plain)
    def unstable(self: Any, obj: Any) -> bool:
        key = (type(obj), self.name)
        if key not in known:
            known[key] = plain(self, obj)
        return known[key]

    return unstable


def _defaults(plain: Any) -> Any:
    """The default of a property, by class and name; a theme's own, one made by a function and one that can be changed are asked for anew."""
    known: dict[tuple[type, str], Any] = {}
    anew: set[tuple[type, str]] = set()

    @wraps(plain)
    def default(self: Any, obj: Any) -> Any:
        themed, key = obj.themed_values(), (type(obj), self.name)
        if key in anew or (themed and self.name in themed):
            return plain(self, obj)
        if key not in known:
            value = plain(self, obj)
            changed = type(obj)._overridden_defaults().get(self.name)
            if type(value) not in PLAIN or callable(changed) or self.has_unstable_default(obj):
                anew.add(key)
                return value
            known[key] = value
        return known[key]

    return default


def _without_advice(plain: Any) -> Any:
    """Panel asks models for what they may not have, and each time Bokeh looks for names that are spelled alike."""

    @wraps(plain)
    def refuse(self: Any, name: str, _properties: Any) -> Any:
        raise AttributeError(f"unexpected attribute {name!r} to {type(self).__name__}")

    return refuse


def _nothing(plain: Any) -> Any:
    """Whether anybody in the process is busy is written down twice a change; no page here shows it (``untied.from_the_busy_flag``)."""
    return wraps(plain)(lambda _self, _event: None)


def _resources(plain: Any) -> Any:
    """The files that the page's own elements ask for, by what is asked for already."""
    known: dict[tuple[Any, ...], list[str]] = {}

    @wraps(plain)
    def add(self: Any, resources: list[str], kind: str) -> None:
        key = (kind, self.mode, state.rel_path, *map(str, resources))
        if key not in known:
            before = len(resources)
            plain(self, resources, kind)
            known[key] = resources[before:]
        else:
            resources.extend(known[key])

    return add
