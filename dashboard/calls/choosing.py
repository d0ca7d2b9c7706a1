"""A question with some choices changed by keyword arguments, each checked with the nearest that there is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from dashboard.answers.catalogue import Catalogue, with_market
from dashboard.answers.question import Question
from dashboard.calls import choices
from dashboard.calls.understood import AskError, as_written, several, shown, word
from dashboard.handout.asking import cultivar_named, known_site
from dashboard.market import Market
from dashboard.market.reading import market_in
from dashboard.ripening.days import day_of_key
from dashboard.wording.strip import wrong_way

INLINE = "your market"  # what faults of a market written in a notebook call its place
# By what a choice beside market, site and filters is called in a notebook, its field.
PLAIN = {"year": "season_kind", "ripeness": "ripeness", "least": "least", "certainty": "certainty"}
OTHERS = ("market", "second_market", "units", "site", "opens", "closes", "slate")


def chosen(question: Question, changes: Mapping[str, Any]) -> Question:
    """The question with these changes; None takes a choice back. AskError for what is not there."""
    catalogue = question.catalogue
    fields: dict[str, Any] = {}
    left: dict[str, Any] = {}
    for name, said in changes.items():
        if name in ("market", "second_market"):
            catalogue, fields["market" if name == "market" else "second"] = _market(catalogue, said)
        elif name in PLAIN or name in OTHERS:
            fields |= _other(catalogue, name, said)
        else:
            left[name] = said
    try:
        fields |= choices.filters(catalogue, left, question.noted)
    except AskError as fault:
        raise _nearer(fault, left, choices.own_facts(catalogue)) from None
    found = replace(question, catalogue=catalogue, **fields)
    if "opens" in fields or "closes" in fields:
        _in_order(found)
    return found


def named(catalogue: Catalogue, name: Any) -> str:
    """The cultivar of that name; AskError with the nearest."""
    if not isinstance(name, str):
        raise AskError(f"A cultivar is named by a text in quotation marks, not by {shown(name)}.")
    with as_written():
        return cultivar_named(name, tuple(catalogue.cultivars.index))


def site(catalogue: Catalogue, said: Any) -> str:
    """The key of a site, "" for none."""
    if said is None or said == "":
        return ""
    sites = catalogue.sites
    ways = {str(key): str(key) for key in sites["site"]} | {
        str(name): str(key) for key, name in zip(sites["site"], sites.get("name", sites["site"]), strict=True) if name == name
    }  # fmt: skip
    with as_written():
        return known_site(catalogue, word(said, ways, "site"))


def _in_order(asked: Question) -> None:
    """AskError where the last selling day comes before the first; an end that was not named is the season's."""
    south, whole = asked.catalogue.south, replace(asked, opens="", closes="").selling
    first, last = (
        day_of_key(key, south) if key else end
        for key, end in zip((asked.opens, asked.closes), whole, strict=True)
    )
    if first > last:
        raise AskError(wrong_way(first, last, south))


def _market(catalogue: Catalogue, said: Any) -> tuple[Catalogue, str]:
    """The catalogue that has the market among its own, and its key; "" for none."""
    if said is None or (isinstance(said, str) and not said):
        return catalogue, ""
    if isinstance(said, Mapping):
        said = market_in(_as_file(said), INLINE, catalogue.own_traits)
    if isinstance(said, Market):
        key = said.key if catalogue.markets.get(said.key, said) == said else f"{said.key}, yours"
        return _joined(catalogue, replace(said, key=key)), key
    if not isinstance(said, str | Path):
        raise AskError(
            f"A market is its name, the path of a profile, or a dict of its limits and wishes, not {shown(said)}."
        )
    with as_written():
        return _named_market(catalogue, str(said))


def with_own_market(catalogue: Catalogue, said: Any) -> Catalogue:
    """The catalogue that has a market of one's own among its others; AskError where none is given."""
    if said is None or said == "":
        raise AskError("Give the market: a dict of limits and wishes, or the path of a profile.")
    return _market(catalogue, said)[0]


@lru_cache(maxsize=8)  # one for all who ask for it, so that they share its answers
def _joined(catalogue: Catalogue, market: Market) -> Catalogue:
    if catalogue.markets.get(market.key) == market:
        return catalogue
    return replace(catalogue, markets={**catalogue.markets, market.key: market})


def _named_market(catalogue: Catalogue, said: str) -> tuple[Catalogue, str]:
    known, key = with_market(catalogue, said)
    return (catalogue, key) if known is catalogue else (_joined(catalogue, known.markets[key]), key)


def _as_file(said: Mapping[Any, Any]) -> dict[str, Any]:
    """A market written as a dict, as its file would hold it: tuples as lists."""

    def plain(value: Any) -> Any:
        if isinstance(value, Mapping):
            return {str(name): plain(one) for name, one in value.items()}
        return [plain(one) for one in value] if isinstance(value, list | tuple) else value

    return plain(said)


def _other(catalogue: Catalogue, name: str, said: Any) -> dict[str, Any]:
    if name == "units":
        return {"units": "us" if said is None else choices.system(said)}
    if name == "site":
        return {"site": site(catalogue, said)}
    if name in ("opens", "closes"):
        return {name: choices.day(catalogue, said)}
    if name == "slate":
        return {"shortlist": tuple(dict.fromkeys(named(catalogue, one) for one in several(said, "cultivar")))}
    field = PLAIN[name]
    default = ANYWAY.get(field, choices.CHOICES[field].default)
    return {field: default if said is None else choices.one_of(catalogue, field, said, name)}


ANYWAY: dict[str, Any] = {
    "season_kind": "any"
}  # as on the page: who orders trees does not know which kind of season comes


def _nearer(fault: AskError, left: Mapping[str, Any], own: Iterable[str]) -> AskError:
    """A name that is no filter may be meant for one of the other choices."""
    known = {**dict.fromkeys((*OTHERS, *PLAIN)), **choices.CALLED, **dict.fromkeys(own)}
    for name in left:
        if name not in known and name not in choices.CALLED.values():
            try:
                word(name, known, "choice")
            except AskError as nearer:
                return nearer
    return fault
