"""Whether an order is released, and why not."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Bullets, Heading, Paragraph, say
from spec.compose.gates import Gate, Reason

_MEANING = {"material": "buy material", "build": "cut and build"}


def gate_blocks(gates: tuple[Gate, ...]) -> Iterator[Block]:
    """One paragraph per gate; a held one lists its reasons with their places."""
    yield Heading(2, "Release")
    known: set[Reason] = set()
    for gate in gates:
        meaning = _MEANING[gate.name]
        if not gate.held:
            text = f"Released to {meaning}."
            yield Paragraph(say(text, strong=True))
            continue
        fresh = [reason for reason in gate.reasons if reason not in known]
        same = "all that holds the gate before it" if known else ""
        what = f"{same}, and" if same and fresh else same
        text = f"HELD: do not {meaning} yet. What holds it: {what}".rstrip(": ") + "."
        yield Paragraph(say(text, strong=True), "held")
        if fresh:
            yield Bullets(tuple(say(f"{r.address}: {r.words} ({r.place})") for r in fresh))
        known |= set(gate.reasons)


def held_lines(gates: tuple[Gate, ...]) -> tuple[str, ...]:
    """The lines that stand on every page of a held order."""
    return tuple(
        f"HELD - do not {_MEANING[g.name]}: " + "; ".join(_brief(g)) for g in gates if g.held
    )


def _brief(gate: Gate) -> list[str]:
    names = list(dict.fromkeys(reason.address for reason in gate.reasons))
    return [*names[:6], *([f"and {len(names) - 6} more"] if len(names) > 6 else [])]
