"""Which machine cools which room: lines, condensate, heat and holes go with the machine."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.sheets import kinds
from spec.derive.sheets.cooling import machines
from spec.finding import Level
from spec.place.sizes import size_of
from spec.quantity import show

_WET = ("evaporator", "cooling_unit")
_TWO = """
rooms:
  reds:
    use: wine_storage
    ceiling: {equipment: {EV1: {is: evaporator}, EV2: {is: evaporator}, CP1: {is: condensate_pump,
        serves: SERVED}}}
    cooling: {kind: split_ducted, lines: {from: LINE}, condensate: {from: WATER, pump: CP1}}
  whites:
    use: wine_storage
    ceiling: {equipment: {EV3: {is: evaporator}}}
"""
_GOOD = (
    _TWO.replace("SERVED", "[EV1, EV2]")
    .replace("LINE", "[EV1, EV2]")
    .replace("WATER", "[EV1, EV2]")
)
_SPLIT = """
elsewhere: {CU1: {is: condensing_unit, serves: EV1}, CU2: {is: condensing_unit, serves: EV2}}
rooms:
  reds:
    use: wine_storage
    ceiling: {equipment: {EV1: {is: evaporator}}}
    cooling: {kind: split_ducted, lines: {from: EV1, to: THERE}}
  whites: {use: wine_storage, ceiling: {equipment: {EV2: {is: evaporator}}}}
"""
_THROUGH = """
surroundings: {outdoors: {summer: {temperature: 32 °C, humidity: 50 %}}}
rooms:
  reds: {use: wine_storage}
  whites:
    taped: {to: finish}
    height: 8 ft
    use: wine_storage
    walls_clockwise:
      WA:
        length: 8 ft
        faces: outdoors
        holes: {H1: {center: 3 ft, aff: 80 in, size: WIDE, passes: [CO1], cut_by: framing}}
        equipment: {CO1: {is: cooling_unit, center: 3 ft, aff: 80 in, size: 26 in x 16 in x 24 in,
            rejects_into: WHERE}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""


@rule(
    "cooling.machine-of-another-room",
    level=Level.ERROR,
    trades=("refrigeration", "plumbing"),
    why="Lines and drains that are written down for the machine of the other room are sized, led "
    "and charged for the wrong one.",
    each=("room",),
    bad=_TWO.replace("SERVED", "[EV1, EV2]").replace("LINE", "EV3").replace("WATER", "[EV1, EV2]"),
    good=_GOOD,
)
def machine_of_another_room(facts: Facts, room: Node) -> Iterator[Said]:
    """The lines or the condensate of a room start at a machine of another room."""
    for path in ("lines", "condensate"):
        start = room.find(f"cooling.{path}.from")
        if start is None or start.value is None:
            continue
        for name in room.words(f"cooling.{path}.from"):
            machine = facts.job.thing(name)
            if machine is not None and machine.room not in ("", room.key):
                yield said(
                    start,
                    f"the {path} of {room.key.replace('_', ' ')} start at {name}, which is in "
                    f"{machine.room.replace('_', ' ')}",
                    f"name the machine of {room.key.replace('_', ' ')}",
                    machine,
                )


@rule(
    "cooling.lines-to-another-machine",
    level=Level.ERROR,
    trades=("refrigeration", "electrical"),
    why="The condenser is sized, fed and controlled for the evaporator that it serves.",
    each=("room",),
    bad=_SPLIT.replace("THERE", "CU2"),
    good=_SPLIT.replace("THERE", "CU1"),
)
def lines_to_another_machine(facts: Facts, room: Node) -> Iterator[Said]:
    """The lines of a room end at a condenser that serves none of the machines they start at."""
    for path in ("from", "to"):
        end = room.find(f"cooling.lines.{path}")
        if end is None or end.value is None:
            return
    starts = room.words("cooling.lines.from")
    for name in room.words("cooling.lines.to"):
        condenser = facts.job.thing(name)
        serves = condenser.find("serves") if condenser is not None else None
        if condenser is None or serves is None or serves.value is None:
            continue
        if not set(starts) & set(condenser.words("serves")):
            yield said(
                room.at("cooling.lines.to"),
                f"the lines of {room.key.replace('_', ' ')} lead from {', '.join(starts)} to "
                f"{name}, which serves {', '.join(condenser.words('serves'))}",
                f"name the condenser of {', '.join(starts)}, or put `serves` of {name} right",
                serves,
            )


@rule(
    "cooling.condensate-forgotten",
    level=Level.ERROR,
    trades=("refrigeration", "plumbing"),
    why="Each machine makes water; that of the one that nobody led away finds its own way.",
    each=("room",),
    bad=_TWO.replace("SERVED", "[EV1, EV2]").replace("LINE", "EV1").replace("WATER", "EV1"),
    good=_GOOD,
)
def condensate_forgotten(facts: Facts, room: Node) -> Iterator[Said]:
    """A machine of a cooled room is not among those whose condensate is led away."""
    start = room.find("cooling.condensate.from")
    if start is None or start.value is None:
        return
    for machine in machines(room, *_WET):
        if machine.key not in room.words("cooling.condensate.from"):
            yield said(
                start,
                f"nothing says where the condensate of {machine.key} goes: that of "
                f"{room.key.replace('_', ' ')} comes from {start.written}",
                f"add {machine.key} to `from`, and lead its water there",
                machine,
            )


@rule(
    "cooling.pump-serves-other",
    level=Level.ERROR,
    trades=("refrigeration", "electrical"),
    why="A pump stops the machines that it serves when it fails; the one that it does not know "
    "goes on making water.",
    each=("room",),
    bad=_TWO.replace("SERVED", "EV1").replace("LINE", "[EV1, EV2]").replace("WATER", "[EV1, EV2]"),
    good=_GOOD,
)
def pump_serves_other(facts: Facts, room: Node) -> Iterator[Said]:
    """The pump that takes the condensate of a machine does not say that it serves it."""
    named = room.find("cooling.condensate.pump")
    pump = facts.job.thing(str(named.value)) if named is not None and named.value else None
    serves = pump.find("serves") if pump is not None else None
    if pump is None or serves is None or serves.value is None:
        return
    for name in room.words("cooling.condensate.from", ()):
        machine = facts.job.thing(name)
        if machine is not None and name not in pump.words("serves"):
            yield said(
                serves,
                f"{pump.key} pumps the condensate of {name} and does not serve it: it would not "
                "stop it",
                f"add {name} to `serves` of {pump.key}",
                machine,
                f"{room.address}.cooling.condensate.from",
            )


@rule(
    "cooling.rejects-into-cooled-room",
    level=Level.ERROR,
    trades=("refrigeration",),
    why="What a machine takes out of one room it gives off in the other, and its own heat with it.",
    each=("cooling_unit", "condensing_unit"),
    bad=_THROUGH.replace("WIDE", "26 in x 16 in").replace("WHERE", "reds"),
    good=_THROUGH.replace("WIDE", "26 in x 16 in").replace("WHERE", "outdoors"),
)
def rejects_into_cooled_room(facts: Facts, machine: Node) -> Iterator[Said]:
    """A machine gives its heat off into a room that stores wine."""
    into = machine.find("rejects_into")
    room = facts.job.thing(str(into.value)) if into is not None and into.value else None
    if into is not None and room is not None and kinds.is_cooled(room):
        yield said(
            into,
            f"{machine.key} gives its heat off into {room.key.replace('_', ' ')}, which is cooled",
            "lead it outdoors, or into a room that may get warm",
            room,
        )


@rule(
    "cooling.hole-too-small",
    level=Level.ERROR,
    trades=("refrigeration", "framing"),
    why="The hole is cut long before the machine comes.",
    each=("hole",),
    bad=_THROUGH.replace("WIDE", "24 in x 14 in").replace("WHERE", "outdoors"),
    good=_THROUGH.replace("WIDE", "26 in x 16 in").replace("WHERE", "outdoors"),
)
def hole_too_small(facts: Facts, hole: Node) -> Iterator[Said]:
    """A hole is smaller than a machine that it says it passes."""
    passes = hole.find("passes")
    if passes is None or passes.children or not hole.given("size"):
        return
    wide, high = size_of(facts.job, hole)
    for name in hole.words("passes"):
        machine = facts.job.thing(name)
        if machine is None or machine.kind not in _WET:
            continue
        needs = size_of(facts.job, machine)
        if wide < needs[0] - 0.0005 or high < needs[1] - 0.0005:
            system = facts.job.system
            yield said(
                hole.at("size"),
                f"{hole.key} is {hole.text('size')}; {name}, which it passes, is "
                f"{show(needs[0], 'length', system)} wide and "
                f"{show(needs[1], 'length', system)} high",
                f"cut {hole.key} larger, with room for its sleeve",
                machine,
            )


@rule(
    "cooling.hole-beside-machine",
    level=Level.ERROR,
    trades=("refrigeration", "framing", "demolition"),
    why="One trade cuts the hole from its order, another hangs the machine from its own.",
    each=("hole",),
    bad=_THROUGH.replace("WIDE", "26 in x 16 in")
    .replace("WHERE", "outdoors")
    .replace(
        "center: 3 ft, aff: 80 in, size: 26 in x 16 in, p",
        "center: 5 ft, aff: 80 in, size: 26 in x 16 in, p",
    ),
    good=_THROUGH.replace("WIDE", "26 in x 16 in").replace("WHERE", "outdoors"),
)
def hole_beside_machine(facts: Facts, hole: Node) -> Iterator[Said]:
    """A hole and the machine that it says it passes are not at one place of their wall."""
    passes = hole.find("passes")
    if passes is None or passes.children:
        return
    for name in hole.words("passes"):
        machine = facts.job.thing(name)
        if machine is None or machine.kind not in _WET:
            continue
        cut, hung = facts.places.rect(hole), facts.places.rect(machine)
        if cut.wall == hung.wall and cut.rect.beside(hung.rect):
            yield said(
                hole,
                f"{hole.key} passes {name}, but {name} is placed beside it on {cut.wall}",
                f"place {hole.key} and {name} from the same corner at the same height",
                machine,
            )
