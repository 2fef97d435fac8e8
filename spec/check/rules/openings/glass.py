"""Glass of cooled rooms: dry, and as was promised."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.openings.doors import COLD, LEAF, cold, kept
from spec.check.worked import known, worked
from spec.derive.sheets.panes import glass_u, glazings
from spec.finding import Level
from spec.quantity import show

DAMP = COLD.replace("humidity: 60 %}, winter", "humidity: 75 %}, winter")


@rule(
    "openings.glass-sweats",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="Glass that is colder than the dew point of the air beside it runs with water, onto the "
    "floor and into the frame.",
    source="ISO 13788:2012; ASHRAE Handbook Fundamentals 2017 ch. 1",
    each=("door", "window", "glass_front"),
    bad=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 1, u_value: 5.6 W/m²K}}"),
    good=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, u_value: 1.1 W/m²K}}"),
)
def glass_sweats(facts: Facts, opening: Node) -> Iterator[Said]:
    """The warm face of glass or its edge is within the margin of the dew point, or below it."""
    yield from _sweating(facts, opening, "glazing", "choose glass and spacer with a lower U-value")


@rule(
    "openings.leaf-sweats",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="A thin leaf or a metal frame that is colder than the dew point of the air beside it runs "
    "with water, swells and rots.",
    source="ISO 13788:2012; ISO 10077-1",
    each=("door", "window", "glass_front"),
    bad=DAMP.replace("FACTS", LEAF.replace("2 in", "1/2 in")),
    good=DAMP.replace("FACTS", LEAF.replace("2 in", "3 in")),
)
def leaf_sweats(facts: Facts, opening: Node) -> Iterator[Said]:
    """The warm face of leaf or frame is within the margin of the dew point, or below it."""
    cure = "choose a thicker leaf, one with an insulated core, or a frame with a thermal break"
    yield from _sweating(facts, opening, "", cure)


def _sweating(facts: Facts, opening: Node, part: str, cure: str) -> Iterator[Said]:
    """The parts of an opening that sweat, or nearly do: those of glass, or the others."""
    room = cold(facts, opening)
    if room is None or kept(opening):
        return
    facts.figures.value("openings.surface", opening)
    dew = facts.figures.value("openings.dew_point", opening)
    margin = facts.job.limit("surface.dew_margin")
    system = facts.job.system
    for face in facts.figures.get("openings.surface", opening).parts:
        if face.value < dew + margin and face.address.endswith("glazing") is bool(part):
            yield said(
                face.address,
                f"the {face.label} of {opening.key} is {show(face.value, 'temperature', system)} "
                "warm on its warm side, the air beside it sweats below "
                f"{show(dew, 'temperature', system)}; the house keeps "
                f"{show(margin, 'temperature_difference', system)} apart",
                cure,
                f"{room.address}.climate.temperature",
            )


@rule(
    "openings.glass-too-cold",
    level=Level.ERROR,
    trades=("doors", "glazing", "refrigeration"),
    why="Single glass, and double glass without a coating, is the weakest part of a cooled "
    "room: it "
    "sweats on the next damp day and loads the machine.",
    each=("door", "window", "glass_front"),
    bad=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 1, u_value: 5.6 W/m²K}}"),
    good=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, u_value: 1.1 W/m²K}}"),
)
def glass_too_cold(facts: Facts, opening: Node) -> Iterator[Said]:
    """The glass of a cooled room's opening conducts more than the house allows."""
    most = facts.job.threshold("glazing.most_u")
    if kept(opening) or cold(facts, opening) is None:
        return
    for glass in glazings(opening):
        u_value = glass.find("u_value")
        written = u_value is not None and u_value.known
        if glass_u(facts, glass) <= most.si:
            continue
        worth = u_value.written if u_value is not None and written else _by_panes(facts, glass)
        yield said(
            u_value if u_value is not None and written else glass,
            f"the glass of {opening.key} has a U-value of {worth}; the house takes "
            f"{most.written} at most",
            "choose insulating glass with a coating",
            glass,
        )


def _by_panes(facts: Facts, glass: Node) -> str:
    worth = show(facts.figures.value("openings.glass_u", glass), "u_value", facts.job.system)
    return f"{worth} by its panes (none is written)"


@rule(
    "openings.glass-not-of-its-panes",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="Panes and U-value are ordered from the same line; where they cannot belong together, one "
    "of them arrives wrong.",
    source="EN 673",
    each=("door", "window", "glass_front"),
    bad=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 1, u_value: 1.5 W/m²K}}"),
    good=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, u_value: 1.5 W/m²K}}"),
)
def glass_not_of_its_panes(facts: Facts, opening: Node) -> Iterator[Said]:
    """A U-value is written that no glass of so many panes, this gas and this coating has."""
    for glass in glazings(opening):
        if glass.find("panes") is None or not glass.at("u_value").known:
            continue
        written = glass.si("u_value")
        for name, words in (("least", "at the least"), ("most", "at the most")):
            bound = known(facts, f"openings.glass_{name}_u", glass)
            if bound is None or (written >= bound if name == "least" else written <= bound):
                continue
            panes = glass.count("panes")
            yield said(
                glass.at("u_value"),
                f"the glass of {opening.key} has {panes} {'pane' if panes == 1 else 'panes'} and a "
                f"U-value of {glass.at('u_value').written}; such glass has "
                f"{show(bound, 'u_value', facts.job.system)} {words}",
                "write panes, gas and coating as ordered, with the maker's U-value for them",
                glass.at("panes"),
            )


@rule(
    "openings.promise-not-kept",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="What the client initials is measured at the door, by eye and hand, in the first summer.",
    source="ISO 13788:2012; ASHRAE Handbook Fundamentals 2017 ch. 1",
    bad="promises: {PR1: {of: D1, up_to: {temperature: 26 °C, humidity: 95 %}}}\n"
    + COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, u_value: 1.1 W/m²K}}").strip(),
    good="promises: {PR1: {of: D1, up_to: {temperature: 26 °C, humidity: 60 %}}}\n"
    + COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, u_value: 1.1 W/m²K}}").strip(),
)
def promise_not_kept(facts: Facts) -> Iterator[Said]:
    """Glass is promised to stay dry in an air in which it sweats, or nearly does."""
    least = facts.job.limit("surface.dew_margin")
    for promise, margin in worked(facts, "openings.promise_margin"):
        if margin >= least:
            continue
        opening = next(
            (t for name in promise.words("of") if (t := facts.job.thing(name.split(".")[0]))), None
        )
        system = facts.job.system
        coldest = facts.figures.get("openings.promise_margin", promise).remark
        yield said(
            promise.at("up_to"),
            f"{promise.key} promises dry glass up to {promise.text('up_to.temperature')} and "
            f"{promise.text('up_to.humidity')}; there the {coldest} is "
            f"{show(margin, 'temperature_difference', system)} over its dew point, the house keeps "
            f"{show(least, 'temperature_difference', system)}",
            "promise less, or choose glass with a lower U-value",
            *([f"{opening.address}.glazing.u_value"] if opening is not None else []),
        )


@rule(
    "openings.promise-without-air",
    level=Level.ERROR,
    silence=True,
    trades=(),
    why="Dry glass is promised up to an air beside it; without one it is promised in a steam bath.",
    each=("promise",),
    bad="promises: {PR1: {of: D1.glazing}}\n"
    + COLD.replace("FACTS", "glazing: {panes: 2}").strip(),
    good="promises: {PR1: {of: D1.glazing, up_to: {temperature: 26 °C, humidity: 60 %}}}\n"
    + COLD.replace("FACTS", "glazing: {panes: 2}").strip(),
)
def promise_without_air(facts: Facts, promise: Node) -> Iterator[Said]:
    """A promise about glass does not say up to which air it holds."""
    if promise.find("up_to") is None and any("glazing" in name for name in promise.words("of", ())):
        yield said(
            promise,
            f"{promise.key} promises something of glass and no air up to which it holds (`up_to`)",
            "write `up_to: {temperature: ..., humidity: ...}`",
            f"{promise.address}.up_to",
        )
