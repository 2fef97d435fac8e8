"""Where a job departs from its house standards: values that stand in place of the house's."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from spec.finding import Finding, Level, Spot
from spec.job.node import Node
from spec.job.raw import Raw, State
from spec.job.schema import Shape, root
from spec.meant import did_you_mean

ORIGIN = "override"
"""Where a value and all that is in it came from that stands in place of the house's."""
_NOT_HERE = ("not_applicable", "dropped")


class Overrides:
    """The overrides of a job by the address that each stands in for."""

    def __init__(self, tree: Raw) -> None:
        over = tree.map().get("overrides")
        self.entries: dict[str, Raw] = dict(over.map()) if over is not None else {}

    def put_in(self, node: Node, raw: Raw) -> None:
        """Put the override of a node, or of what it was taken over from, in place of its value.

        Whoever reads the raw tree later finds it there: the schema too is held against it. The
        node is marked with where its value came from.
        """
        address = next((a for a in (node.address, node.model) if a in self.entries), "")
        if not address or node.address.startswith("overrides"):
            return
        over = self.entries[address]
        value = over.map().get("value")
        if over.state is not None and over.state.kind in _NOT_HERE:
            return
        if value is None:
            unread = State("unreadable", over.place, who="lead", why=str(over.value or ""))
            value = Raw(None, over.place, over.key_place, over.state or unread)
        through = f"overrides.{address}"
        put = value.inherited(ORIGIN, through)
        raw.value, raw.state, raw.place, raw.origin = put.value, put.state, put.place, ORIGIN
        node.origin, node.state, node.place, node.through = ORIGIN, put.state, put.place, through

    def of_defaults(self, index: Mapping[str, Node]) -> Iterator[tuple[str, Shape]]:
        """Overrides of standards that the house leaves at their defaults, with what each is."""
        for address in self.entries:
            shape = standard_of(address) if address not in index else None
            if shape is not None:
                yield address, shape

    def told_once(self, findings: Iterable[Finding]) -> Iterator[Finding]:
        """What is wrong with an override is said of the standard, not of all that is like it."""
        all_of_them = list(findings)
        of_standards = {id(f) for f in all_of_them if self._names(f.address)}
        told = {(f.rule, f.place) for f in all_of_them if id(f) in of_standards}
        for finding in all_of_them:
            if id(finding) in of_standards or (finding.rule, finding.place) not in told:
                yield finding

    def _names(self, address: str) -> bool:
        return any(address == at or address.startswith(f"{at}.") for at in self.entries)

    def misplaced(self, index: Mapping[str, Node], own: frozenset[str]) -> Iterator[Finding]:
        """Overrides of nothing, and of what the job writes itself (`own` addresses)."""
        for address, raw in self.entries.items():
            known = index.get(address)
            if known is None:
                hint = did_you_mean(address, [*_thresholds(), *index], least=0.6)
                yield Finding(
                    "job.names-nothing",
                    Level.ERROR,
                    f"`overrides` names `{address}`, which is no standard of the house{hint}",
                    "write the standard's address as `show` prints it",
                    (Spot(f"overrides.{address}", raw.key_place),),
                )
            elif address in own:
                yield Finding(
                    "job.overrides-itself",
                    Level.ERROR,
                    f"`{address}` is written in this job itself, at {known.key_place}",
                    "change it there: overrides are departures from the house standards",
                    (Spot(address, raw.key_place),),
                )


def _thresholds() -> tuple[str, ...]:
    shape = root("house").below("thresholds")
    return shape.names if shape is not None else ()


def standard_of(address: str) -> Shape | None:
    """What the schema says of a threshold, or of `done_by.KIND`."""
    kind = address.removeprefix("done_by.")
    group = root("house").below("thresholds" if kind == address else "done_by")
    return group.below(kind) if group is not None else None
