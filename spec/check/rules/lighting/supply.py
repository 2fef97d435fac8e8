"""Strips and their drivers, and lights over tables."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.finding import Level
from spec.job import feeds
from spec.job.node import Open
from spec.quantity import Quantity, Size, show

_HANGING = ("pendant", "chandelier")
_TABLES = ("table", "furniture", "island")
_STRIP = """
circuits: {C1: {voltage: 120 V, breaker: 15 A}}
rooms:
  wine_room:
    taped: {to: finish}
    height: 8 ft
    walls_clockwise:
      WA:
        length: 8 ft
        devices: {S1: {is: dimmer, fed_from: C1}}
        lights:
          LS1: {is: strip, pieces: [PIECES], longest_run: 16 ft, voltage: 24 V, fed_from: FEED}
        drivers: {PS1: {power: 60 W, voltage: 24 V, inside: R1, REACHED fed_from: S1}}
        millwork: {lower: {left_to_right: {R1: {is: cabinet, width: 24 in}}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""

_TABLE = """
rooms:
  tasting_room:
    floor:
      existing:
        K1: {is: furniture, size: 2.2 m x 0.75 m x 0.95 m, to: {surface: tasting_room.floor}}
    ceiling: {lights: {L1: {is: pendant, bottom: HIGH}}}
"""
_CLASS_2 = """
elsewhere: {PS1: {is: driver, power: POWER, voltage: 24 V,
    cable: {conductor: 14 AWG copper, length: 12 ft}}}
"""
_EXIT = """
circuits: {C1: {breaker: 15 A}}
rooms:
  hall:
    walls_clockwise:
      WA:
        devices: {S1: {is: dimmer, fed_from: C1}}
        lights: {EL1: {is: emergency_light, fed_from: FEED}}
"""


def _strip(
    pieces: str = "8 ft", feed: str = "PS1", reached: str = "reached: through the door,"
) -> str:
    return _STRIP.replace("PIECES", pieces).replace("FEED", feed).replace("REACHED", reached)


@rule(
    "lighting.strip-too-long",
    level=Level.ERROR,
    trades=("electrical",),
    why="A strip that is longer than its maker allows from one feed is bright at one end and brown "
    "at the other.",
    each=("strip",),
    bad=_strip("20 ft"),
    good=_strip("8 ft"),
)
def strip_too_long(facts: Facts, strip: Node) -> Iterator[Said]:
    """The longest piece of a strip is longer than its maker allows from one feed."""
    most = strip.find("longest_run")
    if most is None or not isinstance(most.value, Quantity):
        return
    share = known(facts, "lighting.longest_feed", strip)
    if share is not None and share > 1.001:
        whole = known(facts, "lighting.length", strip) or 0.0
        yield said(
            strip,
            f"{strip.key} is {show(whole, 'length', facts.job.system)} long, its maker allows "
            f"{most.written} from one feed",
            "cut it in two under `pieces` and feed each, or choose a strip for longer runs",
            most,
        )


@rule(
    "lighting.strip-without-driver",
    level=Level.ERROR,
    trades=("electrical",),
    why="A strip of 24 V on a circuit of the house is dark at once, and for good.",
    each=("strip",),
    bad=_strip(feed="S1"),
    good=_strip(),
)
def strip_without_driver(facts: Facts, strip: Node) -> Iterator[Said]:
    """A low-voltage strip is fed by something of another voltage that is no driver."""
    fed, volts = strip.find("fed_from"), strip.find("voltage")
    source = facts.job.thing(str(fed.value)) if fed is not None and fed.value is not None else None
    if fed is None or source is None or volts is None or not isinstance(volts.value, Quantity):
        return
    if volts.value.si <= 60.0 and source.kind in ("circuit", "dimmer", "switch", "receptacle"):
        yield said(
            fed,
            f"{strip.key} is a strip of {volts.written} and hangs on {source.key}, a {source.kind}",
            "put a driver between them",
            volts,
        )


@rule(
    "lighting.more-than-class-2",
    level=Level.ERROR,
    trades=("electrical",),
    why="Only a Class 2 supply may feed a thin cable without boxes; a stronger one heats it where "
    "nobody sees it, and no fuse goes.",
    source="NEC 2023 725.60 (725.121 before), chapter 9 table 11(B); cited from memory, check the "
    "adopted edition",
    bad=_CLASS_2.replace("POWER", "150 W"),
    good=_CLASS_2.replace("POWER", "96 W"),
)
def more_than_class_2(facts: Facts) -> Iterator[Said]:
    """A driver gives more than a Class 2 supply may, and is not said to be none."""
    for driver, most in worked(facts, "lighting.class_2_limit"):
        marked, power, system = driver.find("class_2"), driver.at("power"), facts.job.system
        if driver.si("power") <= most or (marked is not None and marked.value is not True):
            continue
        yield said(
            power,
            f"{driver.key} gives {power.written} at {driver.text('voltage')}; a Class 2 supply "
            f"gives {show(most, 'apparent_power', system)} at most",
            "divide it into smaller ones, or write `class_2: no` and lay its cable like one of "
            "the house",
            *([marked] if marked is not None else []),
        )


@rule(
    "lighting.driver-out-of-reach",
    level=Level.ERROR,
    trades=("electrical", "millwork"),
    why="A driver is what fails first; one that nobody reaches is changed with a saw.",
    each=("driver",),
    bad=_strip(reached=""),
    good=_strip(),
)
def driver_out_of_reach(facts: Facts, driver: Node) -> Iterator[Said]:
    """A driver stands inside something, and nothing says how one reaches it."""
    inside = driver.find("inside")
    if inside is not None and inside.value is not None and driver.find("reached") is None:
        yield said(
            f"{driver.address}.reached",
            f"{driver.key} is inside {inside.written}, and nothing says how one reaches it",
            "write `reached`: through which door or panel, without tools",
            inside,
        )


@rule(
    "lighting.feeds-no-light",
    level=Level.WARNING,
    trades=("electrical",),
    why="A driver that feeds nothing is one that a strip was meant to hang on.",
    each=("driver",),
    bad=_strip(feed="S1"),
    good=_strip(),
)
def feeds_no_light(facts: Facts, driver: Node) -> Iterator[Said]:
    """No light or decoder names a driver as its feed."""
    for light in facts.job.everything:
        fed = light.find("fed_from")
        if fed is not None and fed.value == driver.key:
            return
    yield said(
        driver,
        f"nothing is fed from {driver.key}",
        "name it under `fed_from` of its strips, or take it away",
    )


@rule(
    "lighting.too-low-over-table",
    level=Level.ERROR,
    trades=("electrical",),
    why="A lamp that hangs in the line of sight across a table is moved up by the first guest.",
    each=_HANGING,
    bad=_TABLE.replace("HIGH", "1.2 m"),
    good=_TABLE.replace("HIGH", "1.6 m"),
)
def too_low_over_table(facts: Facts, light: Node) -> Iterator[Said]:
    """A light hangs nearer to the top of its room's table than the house keeps."""
    bottom = light.find("bottom")
    if bottom is None or not isinstance(bottom.value, Quantity):
        return
    least, system = facts.job.limit("hanging.over_table"), facts.job.system
    walks_under = facts.job.limit("hanging.clear")
    for table in facts.job.things(*_TABLES):
        leaf, top = _top(table)
        if leaf is None or _stands_in(table) != light.room or bottom.value.si >= walks_under:
            continue
        if bottom.value.si - top < least - 0.0005:
            yield said(
                bottom,
                f"{light.key} hangs {show(bottom.value.si - top, 'length', system)} over "
                f"{table.key}; "
                f"the house keeps {show(least, 'length', system)}",
                "hang it higher",
                leaf,
            )


def _top(table: Node) -> tuple[Node | None, float]:
    """The leaf that says how high a table is, and its height [m]."""
    high = table.find("height")
    if high is not None and isinstance(high.value, Quantity):
        return high, high.value.si
    size = table.find("size")
    if size is not None and isinstance(size.value, Size) and len(size.value.sides) > 1:
        return size, size.value.sides[1].si
    return None, 0.0


def _stands_in(table: Node) -> str:
    """The room that a table stands in when all is done."""
    try:
        return table.word("to.surface").partition(".")[0]
    except Open:
        return table.room


@rule(
    "lighting.emergency-behind-control",
    level=Level.ERROR,
    trades=("electrical",),
    why="An emergency light comes on when its circuit fails: behind a dimmer it comes on with "
    "every dinner, and its battery is empty on the night of the fire.",
    source="NEC 700.12, unit equipment ahead of the local switches; cited from memory",
    each=("emergency_light",),
    bad=_EXIT.replace("FEED", "S1"),
    good=_EXIT.replace("FEED", "C1"),
)
def emergency_behind_control(facts: Facts, light: Node) -> Iterator[Said]:
    """An emergency light is fed through a switch or a dimmer."""
    for control in feeds.controls_of(facts.job, light):
        yield said(
            light.at("fed_from"),
            f"{light.key} is fed through {control.key}, which somebody turns off on leaving",
            f"feed {light.key} from the circuit ahead of {control.key}",
            control,
        )
