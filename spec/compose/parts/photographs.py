"""Photographs of the place as it is: of the walls and things that a reader has to do with."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Heading, Photo
from spec.compose.context import Reader
from spec.compose.wording import thing_words


def photographs(reader: Reader) -> Iterator[Block]:
    """One block per photograph of a thing of the trade or of a surface on which it works."""
    own = {thing.address for thing in reader.own_work}
    own |= {thing.surface for thing in reader.own_work if thing.surface}
    shown: list[Block] = []
    for (address, number), content in reader.photos.items():
        thing = reader.job.find(address)
        if thing is None or not (thing.address in own or thing.surface in own):
            continue
        words = thing_words(reader.job, thing)
        caption = words[:1].upper() + words[1:] + (f", {number}" if number > 1 else "")
        cites = frozenset({f"photos.{address}"})
        shown.append(Photo(content, caption, f"Photograph of {words} as found.", cites))
    if shown:
        yield Heading(2, "The place as it is")
        yield from shown
