"""The tables that trades look for, as data: which things together, in which columns.

A thing that fits none of them stands in a table of its kind or on a card of its own.
"""

from __future__ import annotations

from spec.compose.parts.columns import Column, Layout
from spec.job.node import Node

_MARK = Column("Mark", ("{!mark}",), 1.1)
_KEY = Column("Mark", ("{!key}",), 0.5)
_WHERE = Column("Where, as seen from inside the room named", ("{!where}",), 2.2)


def _in_plate(thing: Node) -> bool:
    upper = thing.parent
    return upper is not None and upper.key == "left_to_right" and thing.heading == "devices"


def _is_box(thing: Node) -> bool:
    return thing.heading == "devices" and not _in_plate(thing)


def _is_machine(thing: Node) -> bool:
    """What has a plate to be read: it draws power and is neither a light nor a device."""
    if thing.container == "circuits" or thing.heading in ("devices", "lights", "drivers"):
        return False
    draws = ("fed_from", "minimum_circuit", "watts", "running")
    return any(thing.find(key) is not None for key in draws)


def _is_existing(thing: Node) -> bool:
    return thing.heading == "existing"


LAYOUTS: tuple[Layout, ...] = (
    Layout(
        "Circuits",
        lambda thing: thing.kind == "circuit",
        (
            Column("Circuit", ("{!key}", "on {panelboard}"), 0.7),
            Column("Feeds, through whatever lies between", ("{!loads}",), 1.8),
            Column("Load", ("{@electrical.connected}", "{@electrical.current}"), 1.2),
            Column("Breaker", ("{breaker}", "curve {curve}", "{voltage}"), 0.8),
            Column("Conductor", ("{conductor}", "{length} one way"), 1.1),
            Column("Drop", ("{@electrical.drop}",), 0.6),
            Column(
                "Protection, and what it never shares",
                ("{protection}", "dedicated: {dedicated}", "never with {never_with}"),
                1.4,
            ),
        ),
    ),
    Layout(
        "Machine plates",
        _is_machine,
        (
            _MARK,
            Column("Where", ("{!where}", "{where}"), 1.6),
            Column("Voltage", ("{voltage}", "{supply}"), 0.9),
            Column("Draws", ("{watts}", "{running} running", "{locked_rotor} at start"), 0.9),
            Column(
                "On its plate",
                ("least circuit {minimum_circuit}", "breaker at most {maximum_overcurrent}"),
                1.4,
            ),
            Column("Fed from", ("{fed_from}",), 0.7),
            Column("Model", ("{product}",), 1.3),
        ),
        subject="electrical",
        trades=("electrical",),
        spare=8,
    ),
    Layout(
        "Boxes and devices",
        _is_box,
        (
            _MARK,
            _WHERE,
            Column("Box", ("{box}", "ring {extension}", "{@electrical.box_left} free"), 1.1),
            Column("Fed from", ("{fed_from}", "cable {cable}"), 0.9),
            Column("Sealed", ("retarder: {sealed.retarder}", "fire: {sealed.fire}"), 1.2),
        ),
        spare=8,
    ),
    Layout(
        "On the plates",
        _in_plate,
        (
            _MARK,
            Column("Plate", ("{!plate}",), 1.3),
            Column("Controls", ("{!loads}",), 1.5),
            Column("Load", ("{@lighting.dimmer_load}",), 0.8),
            Column("Least and most", ("{least} to {most}",), 1.0),
            Column("Method", ("{dimming}",), 0.7),
            Column("Fed from", ("{fed_from}",), 0.7),
        ),
    ),
    Layout(
        "Strips",
        lambda thing: thing.kind == "strip",
        (
            _KEY,
            Column("Runs along", ("{!where}", "{along}", "{tier}", "shines {shines}"), 1.7),
            Column("Length", ("{@lighting.length}", "longest run {longest_run}"), 1.1),
            Column("Power", ("{watts}", "{@lighting.load} in all"), 0.9),
            Column("Light", ("{color}", "{rating}", "{voltage}"), 0.8),
            Column("Fed from", ("{fed_from}", "drop {@lighting.drop}"), 0.8),
        ),
    ),
    Layout(
        "Drivers and low-voltage runs",
        lambda thing: thing.kind == "driver",
        (
            _KEY,
            Column("Sits, and how it is reached", ("in {inside}", "{!where}", "{reached}"), 1.6),
            Column("Output", ("{power}", "{voltage}", "{dimming}"), 0.8),
            Column("Load", ("{@lighting.driver_load}", "headroom {@lighting.headroom}"), 1.1),
            Column("Feeds", ("{!feeds}",), 0.9),
            Column(
                "Cable to the strips",
                ("{cable.conductor}", "{cable.length} one way", "drop {@lighting.drop}"),
                1.3,
            ),
            Column("Fed from", ("{fed_from}",), 0.7),
        ),
    ),
    Layout(
        "Luminaires",
        lambda thing: thing.heading == "lights",
        (
            _MARK,
            Column("Where", ("{!where}", "in {inside}"), 1.7),
            Column("Power", ("{!how_many}{watts}", "{@lighting.power} in all"), 0.9),
            Column("Light", ("{color}", "{rating}", "{dimming}"), 0.8),
            Column("Cut-out and weight", ("{diameter}", "{weight}"), 0.9),
            Column("Fed from", ("{fed_from}",), 0.7),
        ),
    ),
    Layout(
        "Holes",
        lambda thing: thing.kind == "hole",
        (
            Column("Hole", ("{!key}", "{title}"), 0.7),
            _WHERE,
            Column("Size", ("{size}",), 0.7),
            Column(
                "Passes",
                (
                    "{passes}",
                    "{passes.cable} cables",
                    "{passes.line} refrigerant lines",
                    "{passes.drain} drains",
                    "{passes.duct} ducts",
                    "{passes.hose} hoses",
                ),
                0.9,
            ),
            Column("Cut by", ("{cut_by}",), 1.1),
            Column("Closed by", ("{closed_by}",), 1.1),
            Column(
                "How it is sealed",
                (
                    "retarder: {sealed.retarder}",
                    "fire: {sealed.fire}",
                    "weather: {sealed.weather}",
                ),
                1.6,
            ),
        ),
    ),
    Layout(
        "Backing",
        lambda thing: thing.kind == "backing",
        (
            _KEY,
            Column("Carries", ("{for}",), 0.9),
            _WHERE,
            Column("Member", ("{member}", "rated {rated}"), 1.0),
            Column("Longest screw", ("{longest_screw}",), 0.8),
        ),
    ),
    Layout(
        "As found",
        _is_existing,
        (
            _MARK,
            _WHERE,
            Column("What happens", ("{action}", "then {then}", "kept live: {kept_live}"), 1.3),
            Column("Goes to", ("{store}", "back at {at}"), 0.9),
            Column("Behind it", ("{patched}", "leaves hole {hole}"), 1.1),
        ),
    ),
    Layout(
        "Walls",
        lambda thing: thing.kind == "wall",
        (
            Column("Wall", ("{!where}",), 1.3),
            Column("Taped", ("{length}",), 0.8),
            Column("Finished length", ("{@envelope.finished_length}",), 0.9),
            Column("Area", ("{@area.wall}",), 0.7),
            Column("Faces", ("{faces}", "back of {back_of}"), 0.8),
            Column("Built as", ("{assembly}", "on {on}", "partition {partition}"), 0.8),
        ),
        spare=12,
    ),
)


def layout_for(thing: Node, paths: frozenset[str], trade: str) -> Layout | None:
    """The table for a thing of which a reader needs the facts at these paths, if there is one."""
    for layout in LAYOUTS:
        if layout.trades and trade not in layout.trades:
            continue
        if layout.picks(thing):
            return layout if len(paths - layout.paths) <= layout.spare else None
    return None
