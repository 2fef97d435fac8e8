"""Glass of cooled rooms: dry, safe, and as was promised."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.openings.doors import COLD, LEAF, cold, kept
from spec.check.worked import worked
from spec.finding import Level
from spec.quantity import Quantity, show


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
    """The warm face of the glass is within the house's margin of the dew point, or below it."""
    room = cold(facts, opening)
    if room is None or kept(opening) or opening.find("glazing.u_value") is None:
        return
    surface = facts.figures.value("openings.surface", opening)
    dew = facts.figures.value("openings.dew_point", opening)
    margin = facts.job.limit("surface.dew_margin")
    if surface < dew + margin:
        system = facts.job.system
        yield said(
            opening.at("glazing"),
            f"the glass of {opening.key} is {show(surface, 'temperature', system)} warm "
            "on its warm "
            f"side, the air beside it sweats below {show(dew, 'temperature', system)}; "
            "the house keeps "
            f"{show(margin, 'temperature_difference', system)} apart",
            "choose glass with a lower U-value",
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
    u_value = opening.find("glazing.u_value")
    most = facts.job.threshold("glazing.most_u")
    if u_value is None or not isinstance(u_value.value, Quantity) or kept(opening):
        return
    if cold(facts, opening) is not None and u_value.value.si > most.si:
        yield said(
            u_value,
            f"the glass of {opening.key} has a U-value of {u_value.written}; the house takes "
            f"{most.written} at most",
            "choose insulating glass with a coating",
            opening.at("glazing"),
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
        yield said(
            promise.at("up_to"),
            f"{promise.key} promises dry glass up to {promise.text('up_to.temperature')} and "
            f"{promise.text('up_to.humidity')}; there it is "
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


@rule(
    "openings.glass-not-safe",
    level=Level.ERROR,
    trades=("doors", "glazing"),
    why="Glass in a door and beside it breaks where people fall.",
    source="IRC R308.4, glazing in and beside doors; cited from memory",
    each=("door", "glass_front"),
    bad=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, safety: none}}"),
    good=COLD.replace("FACTS", f"{LEAF}, glazing: {{panes: 2, safety: tempered}}"),
)
def glass_not_safe(facts: Facts, opening: Node) -> Iterator[Said]:
    """The glass of a door or a glass front is no safety glass."""
    safety = opening.find("glazing.safety")
    if safety is not None and safety.value == "none" and not kept(opening):
        yield said(
            safety,
            f"the glass in {opening.key} is no safety glass",
            "write `tempered` or `laminated`, and that every pane is marked",
        )
