"""The client's spec book: the rooms in plain words, selections, promises, money, what to sign."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import (
    Block,
    Document,
    Heading,
    Initials,
    Paragraph,
    Sentence,
    SignaturePanel,
    say,
)
from spec.compose.context import Reader
from spec.compose.fingerprint import fingerprint
from spec.compose.head import document
from spec.compose.parts.agreed import agreed, in_agreed, whom_to_ring
from spec.compose.parts.finishes import finish_schedule
from spec.compose.parts.marks import marks
from spec.compose.parts.promises import accepted, in_promises, promises
from spec.compose.parts.prose import standing
from spec.compose.parts.quantities import how_made, quantities
from spec.compose.parts.schedules import products, schedules
from spec.compose.parts.selections import decisions_of_client
from spec.compose.wording import room_words, value_text
from spec.job.node import Node
from spec.job.record import recording


def decisions(reader: Reader) -> list[Block]:
    """All that states a decision in words: the rooms, the finishes, what is agreed."""
    return [
        *promises(reader),
        *accepted(reader),
        *_rooms(reader, drawn=False),
        *finish_schedule(reader),
        *_agreed(reader),
    ]


def spec_book(reader: Reader) -> Document:
    """Chapter by chapter, each with its initials; then care and the signature panel."""
    chapters = (
        ("What is promised and accepted", [*promises(reader), *accepted(reader)]),
        ("Your rooms", [*_rooms(reader)]),
        ("Finishes", [*finish_schedule(reader)]),
        ("What it will hold and how it will perform", [*quantities(reader)]),
        ("What is agreed", [*_agreed(reader)]),
        ("What is still yours to decide", [*decisions_of_client(reader)]),
        ("Care", [*standing(reader, "client/care")]),
    )
    blocks: list[Block] = [
        Heading(1, "How to read this book"),
        *standing(reader, "client/how_to_read"),
        *whom_to_ring(reader),
    ]
    for title, body in chapters:
        if not body:
            continue
        blocks += [Heading(1, title), *body, Initials(title, fingerprint(body))]
    blocks.append(SignaturePanel(_agreement(), _signers(reader)))
    blocks += [Heading(1, "To look up"), *how_made(reader)]
    return document(reader.job, "spec-book", "client", "Spec book", blocks)


def _agreed(reader: Reader) -> Iterator[Block]:
    yield from agreed(reader)
    yield from schedules(reader, without=in_promises(reader) | in_agreed(reader))
    yield from products(reader, frozenset())


def _rooms(reader: Reader, *, drawn: bool = True) -> Iterator[Block]:
    for room in reader.job.rooms:
        name = room_words(reader.job, room.key)
        yield Heading(2, name.capitalize())
        yield Paragraph(_about(reader, room, name))
        if drawn:
            from spec.compose.parts.drawings import room_pictures  # noqa: PLC0415

            yield from room_pictures(reader, room)
            yield from marks(reader, room)


def _about(reader: Reader, room: Node, name: str) -> Sentence:
    with recording() as read:
        words = f"The {name} is for {_value(reader, room, 'use')}."
        if room.has("climate.temperature") and room.has("climate.humidity"):
            temperature = _value(reader, room, "climate.temperature")
            humidity = _value(reader, room, "climate.humidity")
            words += f" It is kept at {temperature} and {humidity} relative humidity"
            if room.has("climate.band.temperature") and room.has("climate.band.humidity"):
                words += (
                    f", within {_value(reader, room, 'climate.band.temperature')} and "
                    f"{_value(reader, room, 'climate.band.humidity')} either way"
                )
            words += "."
    return say(words, frozenset(read))


def _value(reader: Reader, room: Node, path: str) -> str:
    node = room.find(path)
    return value_text(reader.job, node) if node is not None else "a use that is not decided"


def _agreement() -> Sentence:
    return say(
        "I have read this book with its open items, exclusions and allowances, and agree that the "
        "rooms be built to it. A page is initialed for what is on it; a page that changes loses "
        "its initials."
    )


def _signers(reader: Reader) -> tuple[str, ...]:
    names = []
    for key in ("client", "lead"):
        node = reader.job.find(key)
        name = node.find("name") if node is not None else None
        names.append(
            f"{key.capitalize()}: {name.written}" if name is not None else key.capitalize()
        )
    return tuple(names)
