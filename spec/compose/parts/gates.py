"""Whether an order is released, and why not."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Block, Bullets, Heading, Paragraph, Sentence, say
from spec.compose.gates import Gate, Reason
from spec.compose.parts.labels import called
from spec.job.job import Job

_MEANING = {"material": "buy material", "build": "cut and build"}


def gate_blocks(job: Job, gates: tuple[Gate, ...]) -> Iterator[Block]:
    """One paragraph per gate; a held one lists its reasons with their addresses."""
    yield Heading(2, "Release")
    known: set[Reason] = set()
    for gate in gates:
        meaning = _MEANING[gate.name]
        if not gate.held:
            yield Paragraph(say(f"Released to {meaning}.", strong=True))
            continue
        fresh = [reason for reason in gate.reasons if reason not in known]
        same = "all that holds the gate before it" if known else ""
        what = f"{same}, and" if same and fresh else same
        text = f"HELD: do not {meaning} yet. What holds it: {what}".rstrip(": ") + "."
        yield Paragraph(say(text, strong=True), "held")
        if fresh:
            yield Bullets(tuple(_reason(job, reason) for reason in fresh))
        known |= set(gate.reasons)


def _reason(job: Job, reason: Reason) -> Sentence:
    """`RF1 refrigerator, product: OPEN: client decides (RF1.product)`.

    No line of the job file: lines move with every edit, and the fingerprint with them.
    """
    return say(f"{called(job, reason.address)}: {reason.words} ({reason.address})")


def held_lines(gates: tuple[Gate, ...]) -> tuple[str, ...]:
    """The lines that stand on every page of a held order; one for both gates if the same holds."""
    held = [gate for gate in gates if gate.held]
    if len(held) > 1 and len({gate.reasons for gate in held}) == 1:
        both = ", do not ".join(_MEANING[gate.name] for gate in held)
        return (f"HELD - do not {both}: " + "; ".join(_brief(held[0])),)
    return tuple(f"HELD - do not {_MEANING[g.name]}: " + "; ".join(_brief(g)) for g in held)


def _brief(gate: Gate) -> list[str]:
    names = list(dict.fromkeys(reason.address for reason in gate.reasons))
    return [*names[:6], *([f"and {len(names) - 6} more"] if len(names) > 6 else [])]
