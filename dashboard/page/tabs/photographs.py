"""Photographs on the page: the newest of each cultivar that can be shown, cleaned."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby, islice

from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.answers.side_by_side import Photograph
from dashboard.records.photos import embedded, located
from dashboard.ripening import date_label
from dashboard.wording.figures import site_name

MOST = 2  # of one sample: the fruit from outside and cut open

Shown = dict[
    str, tuple[tuple[Photograph, str], ...]
]  # by cultivar, each with what the page carries; none where none can be shown


def shown(source: str, taken: Mapping[str, tuple[Photograph, ...]]) -> Shown:
    """Opens and cleans pictures until each cultivar has one: a tenth of a second each, or nothing where it was shown before."""
    return {name: _newest(source, every) for name, every in taken.items()}


def _newest(source: str, taken: tuple[Photograph, ...]) -> tuple[tuple[Photograph, str], ...]:
    for _, sample in groupby(taken, lambda one: (one.site, one.date)):
        found = [(one, path) for one in sample if (path := located(source, one.file)) is not None]
        ready = ((one, content) for one, path in found if (content := embedded(path)))
        if some := tuple(islice(ready, MOST)):
            return some
    return ()


def photographs(asked: Question, name: str, pictures: Shown | None) -> Markup:
    """The photographs of a cultivar; that nobody has one is said once, elsewhere. ``pictures`` None: they are on their way."""
    every = asked.side_by_side.photographs if asked.side_by_side else {}
    if not every:
        return Markup("")
    if name not in every:
        return _said("no photo on record")
    if pictures is None:
        return _said("photo on its way …")
    if not pictures.get(name):
        return _said("the photo on record cannot be shown")
    return Markup("").join(_picture(asked, name, *one) for one in pictures[name])


def _picture(asked: Question, name: str, taken: Photograph, content: str) -> Markup:
    label = f"{name}, {site_name(asked.catalogue, taken.site)}, {date_label(taken.date)}"
    return Markup('<img class="photo" src="{}" alt="{}"><p class="quiet small">{}</p>').format(
        content, f"Photograph of {label}", label
    )


def _said(words: str) -> Markup:
    return Markup('<p class="quiet small">{}</p>').format(words)
