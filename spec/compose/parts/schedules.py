"""Schedules: every decision that a reader needs, by subject and kind of thing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence, Set

from spec.compose.blocks import Block, Facts, Heading, Row, Table
from spec.compose.context import Reader, subject_of
from spec.compose.wording import kind_words, length_text, value_text, where_words
from spec.job.node import Node, Open
from spec.job.record import recording
from spec.job.schema import SUBJECTS
from spec.place.things import is_placed

_CARD_FROM = 9
"""A thing with more facts than this for one reader gets a card of its own."""
_COLUMNS = 4
"""Facts that most things of a kind have stand in columns of their own; the rest in one."""
_PLACE_KEYS = frozenset({"left", "right", "center", "centers", "edge", "bottom", "top", "aff"})
_SILENT = frozenset({"is", "like"})

SUBJECT_TITLES = {
    "job": "The job",
    "access": "Getting there and living there",
    "existing": "What is there now",
    "envelope": "Walls, ceilings, floors",
    "openings": "Doors and openings",
    "cooling": "Cooling",
    "electrical": "Power and devices",
    "lighting": "Lighting",
    "millwork": "Racks, cabinets, millwork",
    "appliances": "Appliances",
    "finishes": "Finishes",
    "order_of_work": "Dates, approvals, purchases",
}


def schedules(reader: Reader, subjects: Sequence[str] = SUBJECTS) -> Iterator[Block]:
    """Cards and tables of all that the reader needs of these subjects."""
    for subject in subjects:
        things = [
            (thing, leaves)
            for thing, leaves in reader.by_thing.values()
            if subject_of(thing) == subject and thing.container != "products"
        ]
        if not things:
            continue
        blocks = list(_of_subject(reader, things))
        yield Heading(2, SUBJECT_TITLES[subject])
        yield from blocks


def products(reader: Reader, stated: Set[str]) -> Iterator[Block]:
    """Facts of the job's products that no thing of the document has stated by now."""
    left = [
        (thing, tuple(leaf for leaf in leaves if leaf.address not in stated))
        for thing, leaves in reader.by_thing.values()
        if thing.container == "products"
    ]
    blocks = list(_of_subject(reader, [(thing, leaves) for thing, leaves in left if leaves]))
    if blocks:
        yield Heading(2, "Products")
        yield from blocks


def _of_subject(reader: Reader, things: Sequence[tuple[Node, tuple[Node, ...]]]) -> Iterator[Block]:
    by_kind: dict[str, list[tuple[Node, tuple[Node, ...]]]] = {}
    for thing, leaves in things:
        by_kind.setdefault(kind_words(thing), []).append((thing, leaves))
    for kind, members in by_kind.items():
        yield from _of_kind(reader, kind, members)


def _of_kind(
    reader: Reader, kind: str, members: list[tuple[Node, tuple[Node, ...]]]
) -> Iterator[Block]:
    shown = [(thing, kept) for thing, leaves in members if (kept := _shown(leaves))]
    alone = len(shown) == 1 and not shown[0][0].surface
    small = [(t, kept) for t, kept in shown if len(kept) < _CARD_FROM and not alone]
    large = [(t, kept) for t, kept in shown if len(kept) >= _CARD_FROM or alone]
    if small:
        yield _table(reader, kind, small)
    for thing, leaves in large:
        yield _card(reader, thing, leaves)


def _shown(leaves: Sequence[Node]) -> tuple[Node, ...]:
    return tuple(leaf for leaf in leaves if leaf.key not in _SILENT)


def _path(thing: Node, leaf: Node) -> tuple[Node, ...]:
    """The nodes from just below the thing to the leaf, containers left out."""
    steps: list[Node] = []
    node: Node | None = leaf
    while node is not None and node is not thing:
        if not node.shape.container or node is leaf:
            steps.append(node)
        node = node.parent
    return tuple(reversed(steps))


def label_of(thing: Node, leaf: Node) -> str:
    """`Leaf: width` - the titles along the way, each said once."""
    if leaf is thing:
        return thing.title
    words: list[str] = []
    for node in _path(thing, leaf):
        title = _called(node)
        if words and title.lower().startswith(words[-1].lower()):
            words[-1] = title
        else:
            words.append(title)
    return ": ".join([words[0], *(_within(w) for w in words[1:])])


def _within(words: str) -> str:
    """A title within a label: small, unless it is a mark or an abbreviation."""
    return words if words[1:2].isupper() or words[1:2].isdigit() else words[:1].lower() + words[1:]


def _called(node: Node) -> str:
    """The schema's title; the key itself where keys are the job's own words."""
    upper = node.parent.shape if node.parent is not None else None
    own_word = upper is not None and upper.takes_entries and node.key not in upper.names
    return node.key.replace("_", " ") if own_word else node.title


def located(reader: Reader, thing: Node) -> tuple[str, frozenset[str]] | None:
    """Where a thing is in words and figures, with what that states; None where it has no place."""
    with recording() as read:
        try:
            if not is_placed(thing) and reader.places.piece(thing) is None:
                return None
            words = _location(reader, thing)
        except Open:
            return None
    return words, frozenset(read)


def _location(reader: Reader, thing: Node) -> str:
    wall = reader.places.wall_of(thing)
    if wall is None:
        return _location_on_plan(reader, thing)
    rect = reader.places.rect(thing).rect

    def text(meters: float) -> str:
        return length_text(reader.job, meters)

    words = [f"{text(rect.left)} to {text(rect.right)} from the left corner"]
    if rect.width < 0.3:
        words = [f"middle {text(rect.center)} from the left corner"]
        words.append(f"middle {text(rect.middle)} above finished floor")
    else:
        words.append(f"{text(rect.bottom)} to {text(rect.top)} above finished floor")
    return "; ".join(words)


def _location_on_plan(reader: Reader, thing: Node) -> str:
    plan = reader.places.plan(thing)
    words: list[str] = []
    for key in ("center", "centers", "edge"):
        below = thing.find(key)
        if below is None:
            continue
        if below.children:
            offs = [f"{value_text(reader.job, c)} off {c.key}" for c in below.children.values()]
            words.append(f"{key.replace('_', ' ')} " + ", ".join(offs))
        else:
            words.append(f"{key} of the {value_text(reader.job, below)}")
    if len(plan.outlines) > 1:
        words.append(f"{len(plan.outlines)} places")
    return "; ".join(words)


def _only_places(thing: Node, leaf: Node, covered: Set[str]) -> bool:
    """Whether a fact says no more than where a thing is, and that is stated in figures already."""
    if leaf.address not in covered or leaf.state is not None:
        return False
    upper = leaf.parent
    if upper is not thing and upper is not None and upper.parent is thing:
        return upper.key in _PLACE_KEYS
    return upper is thing and leaf.key in _PLACE_KEYS


def _table(reader: Reader, kind: str, members: list[tuple[Node, tuple[Node, ...]]]) -> Table:
    usual = _usual_columns(members)
    placed = any(thing.surface for thing, _ in members)
    columns = ["Mark" if placed else "Name"]
    columns += ["Where"] if placed else []
    columns += list(usual)
    rows: list[Row] = []
    further = False
    built: list[tuple[list[str], list[str], frozenset[str]]] = []
    for thing, leaves in members:
        with recording() as read:
            cells, rest = _cells(reader, thing, leaves, usual, placed)
        built.append((cells, rest, frozenset(read)))
        further = further or bool(rest)
    for cells, rest, cites in built:
        rows.append(Row((*cells, "\n".join(rest)) if further else tuple(cells), cites))
    if further:
        columns.append("Further")
    widths = [0.7, *([1.8] if placed else []), *(1.0 for _ in usual), *([2.4] if further else [])]
    return Table(kind.capitalize(), tuple(columns), tuple(rows), tuple(widths))


def _usual_columns(members: list[tuple[Node, tuple[Node, ...]]]) -> tuple[str, ...]:
    if len(members) == 1:
        return ()
    counts: Counter[str] = Counter()
    for thing, leaves in members:
        labels = (label_of(thing, leaf) for leaf in leaves if leaf.key not in _PLACE_KEYS)
        counts.update([*dict.fromkeys(labels)])
    half = len(members) / 2
    usual = [label for label, n in counts.most_common() if n > half]
    return tuple(usual[:_COLUMNS])


def _cells(
    reader: Reader, thing: Node, leaves: Sequence[Node], usual: Sequence[str], placed: bool
) -> tuple[list[str], list[str]]:
    where = located(reader, thing)
    cells = [thing.key.replace("_", " ") if not thing.surface else thing.key]
    covered: frozenset[str] = frozenset()
    if placed:
        place = where_words(reader.job, thing) if thing.surface else ""
        if where is not None:
            covered = where[1]
            place = f"{place}: {where[0]}" if place else where[0]
        cells.append(place)
    by_label: dict[str, list[str]] = {}
    for leaf in leaves:
        if _only_places(thing, leaf, covered):
            value_text(reader.job, leaf)
            continue
        by_label.setdefault(label_of(thing, leaf), []).append(value_text(reader.job, leaf))
    cells += ["; ".join(by_label.pop(label, [""])) for label in usual]
    rest = [f"{label}: {'; '.join(values)}" for label, values in by_label.items()]
    return cells, rest


def _card(reader: Reader, thing: Node, leaves: Sequence[Node]) -> Facts:
    rows: list[Row] = []
    where = located(reader, thing)
    covered: frozenset[str] = frozenset()
    if where is not None:
        covered = where[1]
        place = where_words(reader.job, thing)
        rows.append(Row(("Where", f"{place}: {where[0]}"), covered))
    for leaf in leaves:
        with recording() as read:
            text = value_text(reader.job, leaf)
        if _only_places(thing, leaf, covered):
            continue
        tone = "plain" if leaf.state is None else "held"
        rows.append(Row((label_of(thing, leaf), text), frozenset(read), tone))  # type: ignore[arg-type]
    return Facts(_card_title(reader, thing), tuple(rows))


def _card_title(reader: Reader, thing: Node) -> str:
    title = thing.find("title")
    name = kind_words(thing).capitalize()
    if title is not None and isinstance(title.value, str):
        name = title.value
    where = where_words(reader.job, thing) if thing.surface else ""
    key = thing.key.replace("_", " ")
    if key.lower() == name.lower():
        return name
    return f"{key}: {name}" + (f", {where}" if where else "")
