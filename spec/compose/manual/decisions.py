"""The manual's entries for decisions: everything that a job file or house standards may say.

The schema is walked from the top of both files. A decision's pattern is its address with the kind
in place of a mark (`door.leaf.width`), or a star in place of another name of the job; what is
asked in the same words of several kinds is one entry with several patterns.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple

from spec.compose.manual.entry import Entry, listed, plain
from spec.compose.manual.written import default_text, kinds_of, written
from spec.job.schema import SUBJECTS, TRADES, Shape, root

SHARED = "shared"
"""In place of a subject: what is asked of things of several subjects."""
ALWAYS = frozenset({"is", "like", "none", "note", "tell"})
"""Keys that every thing may have and that mean the same everywhere."""
_KIND = "the word for the kind, as the groups of this manual have it"
_NAMED_IN_FULL = 40


class Asked(NamedTuple):
    """One place where the schema asks: its pattern, the thing or heading it is a fact of, what."""

    pattern: str
    thing: str
    shape: Shape

    @property
    def key(self) -> str:
        """The key in the file."""
        return self.pattern.rpartition(".")[2]

    @property
    def sense(self) -> tuple[str, str, str]:
        """The words in which it is asked."""
        return self.shape.title, self.shape.description, self.shape.decision.ask


@cache
def asked() -> tuple[Asked, ...]:
    """Every decision of both files, in the order of the schema, each pattern and sense once."""
    found: dict[tuple[str, ...], Asked] = {}
    for at in _both():
        found.setdefault((at.pattern, *at.sense), at)
    return tuple(found.values())


_Met = set[tuple[str, str, int, tuple[str, ...]]]


def _both() -> Iterator[Asked]:
    met: _Met = set()
    for name in ("root", "house"):
        yield from _below(root(name), "", "", met)


def _below(shape: Shape, prefix: str, thing: str, met: _Met) -> Iterator[Asked]:
    """Every decision below a map; a kind that was met before in the same form is not met again."""
    here = (prefix, thing, id(shape.schema.get("properties")), shape.names)
    if here in met:
        return
    met.add(here)
    for key in shape.names:
        below = shape.below(key)
        if below is None:
            continue
        pattern = f"{prefix}.{key}" if prefix else key
        yield Asked(pattern, thing or key, below)
        form = below.for_map()
        inside = prefix if form.container else pattern
        within = key if form.container and not form.heading else thing or key
        if form.entry is not None:
            entry = form.entry.for_map()
            kinds = kinds_of(entry, key)
            for kind in kinds:
                yield from _below(entry.of_kind(kind), kind, kind, met)
            if entry.is_map:
                several = f"{pattern}.*" if kinds else f"{inside}.*".lstrip(".")
                yield from _below(entry, several, within, met)
        if form.names:
            yield from _below(form, inside, within, met)


@cache
def decisions() -> tuple[Entry, ...]:
    """An entry for each decision; what is asked alike of several kinds stands in one."""
    alike: dict[tuple[str, ...], list[Asked]] = {}
    for at in asked():
        alike.setdefault((at.key, *at.sense), []).append(at)
    return tuple(_entry(places) for places in alike.values())


@cache
def by_pattern() -> dict[str, tuple[Entry, ...]]:
    """The entries of each pattern; nearly always one."""
    found: dict[str, tuple[Entry, ...]] = {}
    for entry in decisions():
        for pattern in (entry.name, *entry.also):
            found[pattern] = (*found.get(pattern, ()), entry)
    return found


def _entry(places: list[Asked]) -> Entry:
    first = places[0]
    about = first.shape
    ask = about.decision.ask
    words = [ask.replace("{mark}", f"the {plain(first.thing)}")] if ask else []
    if about.description:
        words.append(about.description)
    subjects = dict.fromkeys(_known(at.shape.decision.subject) for at in places)
    shared = len(subjects) > 1
    also = tuple(dict.fromkeys(at.pattern for at in places if at.pattern != first.pattern))
    facts = [*_by_thing("Asked", places, _who_and_when), *_by_thing("Written", places, _writing)]
    defaults = _by_thing("Default", places, lambda at: default_text(at.shape))
    facts += [(label, text) for label, text in defaults if text]
    if 0 < len(also) <= _NAMED_IN_FULL:
        facts.append(("Also", ", ".join(also)))
    elif also:
        facts.append(("Also asked of", listed(_things(places)[1:])))
    return Entry(
        "decision",
        first.pattern,
        about.title or plain(first.key),
        SHARED if shared else next(iter(subjects)),
        "Asked of many things" if shared else _group(first.thing),
        tuple(words),
        tuple(facts),
        also=also,
    )


def _by_thing(
    label: str, places: list[Asked], say: Callable[[Asked], str]
) -> Iterator[tuple[str, str]]:
    """One row where it is the same of all things, else one for each difference."""
    differing: dict[str, list[Asked]] = {}
    for at in places:
        differing.setdefault(say(at), []).append(at)
    if places[0].key in ALWAYS and (label, places[0].key) != ("Written", "is"):
        differing = dict([next(iter(differing.items()))])
    for text, asked_there in differing.items():
        where = f" ({listed(_things(asked_there))})" if len(differing) > 1 else ""
        yield f"{label}{where}", text


def _things(places: list[Asked]) -> list[str]:
    return list(dict.fromkeys(plain(at.thing) for at in places))


def _writing(at: Asked) -> str:
    known = at.key == "is" and "const" in at.shape.schema
    return _KIND if known else written(at.shape, at.key)


def _who_and_when(at: Asked) -> str:
    decision = at.shape.decision
    trades = [_TRADES.get(trade, plain(trade)) for trade in decision.trades]
    if len(trades) == len(TRADES):
        trades = ["every trade"]
    told = f"told to {listed(trades)}" if trades else "told to no trade"
    said = f"{plain(decision.decides)} decides; {told}. "
    if decision.needed == "never":
        return said + "Never needed: it may be left out."
    return (
        f"{said}Needed {_needed(decision.needed)}, before the stage {plain(decision.before)} "
        f"(gate: {_GATES[decision.gate]}); its absence is then {_GRAVITY[decision.absence]}."
    )


def _known(subject: str) -> str:
    return subject if subject in SUBJECTS else "job"


def _group(thing: str) -> str:
    words = plain(thing)
    return words[:1].upper() + words[1:]


_TRADES = {"own": "the trade that the thing belongs to"}
_GRAVITY = {"error": "an error", "warning": "a warning", "note": "a note"}
_GATES = {"material": "buy material", "build": "cut and build"}


def _needed(needed: str | Mapping[str, Any]) -> str:
    if isinstance(needed, str):
        return needed
    word = "when" if "when" in needed else "unless"
    paths = needed[word]
    keys = listed([f"`{key}`" for key in (paths if isinstance(paths, list) else [paths])], "or")
    values = needed.get("is")
    return f"{word} {keys} " + (f"is {listed(values, 'or')}" if values else "has a value")
