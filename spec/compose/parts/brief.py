"""The head of an order: whom to ring, how to get in, what zero is, what stays on."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Facts, Heading, Row
from spec.compose.context import Reader
from spec.compose.parts.places import before_the_floor
from spec.compose.wording import value_text
from spec.job.node import Node
from spec.job.record import note, recording
from spec.job.trades import name_of_trade

_LINES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Site", ("job.site.address", "job.site.floor: floor {}")),
    ("Keys", ("access.keys",)),
    ("Parking", ("access.parking",)),
    ("Unloading", ("access.unload",)),
    (
        "Hours",
        (
            "access.hours.work",
            "access.hours.noise: noisy work {}",
            "access.hours.deliveries: deliveries {}",
            "access.hours.closed: closed {}",
        ),
    ),
    ("Power for tools", ("access.power",)),
    ("Protected", ("access.protect",)),
    (
        "Stays live",
        ("access.living_there.stays_live", "access.living_there.alarm"),
    ),
    ("Without power", ("access.living_there.power_off",)),
    ("Without water", ("access.living_there.water_off",)),
    ("Dust", ("access.living_there.dust",)),
    ("Zero is", ("datum.zero",)),
    (
        "Level line",
        (
            "datum.line.above: {} above zero",
            "datum.line.marked_on: marked on {}",
            "datum.line.until: until {}",
            "datum.survives",
        ),
    ),
)
"""Labels with the addresses that they state, each with its words where the value needs some."""

_IN_HEAD = frozenset({"job.number", "job.title", "job.revision.mark", "job.revision.date"})
_REVISION = Row(("Job and revision", "Stand in the head of every page"), _IN_HEAD)
"""The head states them, so that a new revision alone leaves an order's fingerprint as it was."""
_EARLY = frozenset(
    {"datum.line.above", "datum.line.marked_on", "datum.line.until", "datum.survives"}
)
"""What only those need who come before there is a floor."""


def brief(reader: Reader) -> Iterator[Block]:
    """One table at the top of an order: what one needs before one rings the bell."""
    rows = [_REVISION, *_trade(reader), *_ring(reader)]
    for label, lines in _LINES:
        row = _row(reader, label, lines)
        rows += [row] if row is not None else []
    rows += _surveys(reader)
    yield Heading(2, "Site and contact")
    yield Facts("", tuple(rows))


def in_brief(reader: Reader) -> frozenset[str]:
    """The addresses that the head shows, for the schedules to leave out."""
    shown = [node for _, lines in _LINES for line in lines if (node := _node(reader, line))]
    shown += [*_contact(reader.entry), *_result(reader), *_rung(reader)]
    return _IN_HEAD | {node.address for node in shown}


def _row(reader: Reader, label: str, lines: tuple[str, ...]) -> Row | None:
    with recording() as read:
        texts = []
        for line in lines:
            node = _node(reader, line)
            if node is not None:
                text = value_text(reader.job, node)
                texts.append(line.partition(": ")[2].format(text) if ": " in line else text)
    return Row((label, "\n".join(texts)), frozenset(read)) if texts else None


def _node(reader: Reader, line: str) -> Node | None:
    """What a line states; nothing where it is undecided and not this reader's to wait for."""
    node = reader.job.find(line.partition(": ")[0])
    if node is None or node.children or (node.value is None and node.state is None):
        return None
    if node in reader.leaves:
        return node
    early = node.address not in _EARLY or before_the_floor(reader)
    return node if early and node.standing == "decided" else None


def _contact(entry: Node | None) -> list[Node]:
    found = [entry.find(key) for key in ("firm", "contact", "phone")] if entry else []
    return [node for node in found if node is not None]


def _trade(reader: Reader) -> Iterator[Row]:
    """Who the order is for; where two firms share the trade, each with its part of the work."""
    others = [
        entry
        for entry in reader.job.things("trade")
        if entry is not reader.entry and name_of_trade(entry) == reader.trade
    ]
    for entry in (reader.entry, *others):
        contact = _contact(entry)
        part = entry.find("where") if entry is not None else None
        if contact:
            with recording() as read:
                text = ", ".join(value_text(reader.job, node) for node in contact)
                if part is not None and part.value is not None:
                    text = f"{text}: for {value_text(reader.job, part)}"
            yield Row(("This order is for", text), frozenset(read))


def _ring(reader: Reader) -> Iterator[Row]:
    leaf = reader.job.find("access.ring_on_site")
    if leaf is None:
        return
    with recording() as read:
        text = value_text(reader.job, leaf)
        said = _rung(reader)
        if said:
            text = ", ".join(node.written for node in said[1:])
            note(*(node.address for node in said))
    yield Row(("Ring on site", text), frozenset(read))


def _rung(reader: Reader) -> list[Node]:
    """Whom to ring on site: the word that names the person, the person's name and number."""
    leaf = reader.job.find("access.ring_on_site")
    person = reader.job.find(str(leaf.value)) if leaf is not None and leaf.value else None
    said = [person.find(key) for key in ("name", "phone")] if person is not None else []
    found = [node for node in said if node is not None]
    return [leaf, *found] if leaf is not None and len(found) == 2 else []


def _result(reader: Reader) -> list[Node]:
    return [
        leaf
        for leaf in reader.leaves
        if leaf.address.startswith("surveys.") and leaf.key in ("result", "where", "means")
    ]


def _surveys(reader: Reader) -> Iterator[Row]:
    """Old paint and old materials: what was found, where, what follows."""
    found: dict[str, list[Node]] = {}
    for leaf in _result(reader):
        found.setdefault(leaf.parent.key if leaf.parent else "", []).append(leaf)
    for survey, leaves in found.items():
        with recording() as read:
            text = "; ".join(value_text(reader.job, leaf) for leaf in leaves)
        yield Row((survey.replace("_", " ").capitalize(), text), frozenset(read))
