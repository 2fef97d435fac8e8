"""The vapor retarder: there, on the right side, alone, tight enough, and closed at every hole."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from spec.check.rule import Facts, Node, Said, rule, said
from spec.derive.formulas.range import OutOfRange
from spec.derive.sheets import build_up, kinds, moisture
from spec.derive.sheets.surroundings import beyond, weather
from spec.finding import Level
from spec.job.node import Open
from spec.place.build_up import roles, thickness

_BOXES = ("devices", "lights")
_NO_BOX = ("strip", "pendant_cord", "contact", "floor_box", "driver", "push")
_SHEET = 0.001
"""[m] A membrane or wrap, that holds no water."""
WARM = """
surroundings:
  garage:
    summer: {temperature: 30 °C, humidity: 60 %}
    winter: {temperature: 18 °C, humidity: 50 %}
assemblies:
  A1:
    from_room_outward: {LAYERS}
rooms:
  wine_room:
    use: wine_storage
    climate: {temperature: 13 °C, humidity: 60 %}
    cooling: {kind: packaged_ducted}
    walls_clockwise: {WA: {faces: garage, assembly: A1}}
"""
_BOARD = "board: {material: gypsum_board, thickness: 12 mm, role: board}"
_WOOL = "wool: {material: mineral_wool, thickness: 140 mm, role: insulation}"
_FOIL = "foil: {material: retarder_foil, thickness: 0.2 mm, perm: 0.05 perm, role: retarder}"


def _surfaces(facts: Facts) -> Iterator[Node]:
    """The surfaces of cooled rooms that are built: with an assembly, and not kept as they are."""
    for surface in kinds.cooled_surfaces(facts.job):
        if kinds.says(surface, "assembly") or kinds.says(surface, "partition"):
            yield surface


def _assembly(surface: Node, layers: tuple[Node, ...]) -> Node:
    """The assembly that the layers stand in."""
    parent = layers[0].parent if layers else None
    upper = parent.parent if parent is not None else None
    return upper if upper is not None else surface


def _retarders(layers: tuple[Node, ...]) -> tuple[Node, ...]:
    return tuple(layer for layer in layers if "retarder" in roles(layer))


def always_warmer(facts: Facts, surface: Node) -> bool:
    """Beyond a surface it is warmer than in the room, in summer and in winter."""
    room = facts.job.thing(surface.room)
    if room is None:
        return False
    inside = weather(facts, room, "summer").temperature
    far = beyond(facts, surface)
    return all(weather(facts, far, season).temperature > inside for season in ("summer", "winter"))


@rule(
    "envelope.no-retarder",
    level=Level.ERROR,
    silence=True,
    trades=("insulation", "framing"),
    why="A cooled room draws moisture from all six sides; where one has no retarder, the water "
    "collects in the insulation, unseen until it smells.",
    bad=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}"),
    good=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}, {_FOIL}"),
)
def no_retarder(facts: Facts) -> Iterator[Said]:
    """A surface of a cooled room whose layers hold no retarder."""
    for surface in _surfaces(facts):
        try:
            layers = build_up.through(facts, surface)
        except Open:
            continue
        if layers and not _retarders(layers):
            assembly = _assembly(surface, layers)
            yield said(
                surface,
                f"{surface.address} of a cooled room has no vapor retarder: the layers of "
                f"{assembly.key} are {', '.join(layer.key for layer in layers)}",
                "add a layer with `role: retarder` on the warm side of the insulation of "
                f"{assembly.key}",
                assembly,
            )


@rule(
    "envelope.retarder-on-cold-side",
    level=Level.ERROR,
    trades=("insulation", "framing"),
    why="Beside a room that is always warmer, vapor goes into the cooled room all year. A retarder "
    "on the cold side catches it behind the insulation, where it is below the dew point.",
    bad=WARM.replace("LAYERS", f"{_BOARD}, {_FOIL}, {_WOOL}"),
    good=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}, {_FOIL}"),
)
def retarder_on_cold_side(facts: Facts) -> Iterator[Said]:
    """The only retarder lies on the room's side, and the far side is warm all year."""
    for surface in _surfaces(facts):
        partition = facts.job.thing(surface.word("partition", ""))
        if partition is not None and partition.word("seen_from", "") != surface.room:
            continue
        try:
            layers = build_up.through(facts, surface)
            if not layers or not always_warmer(facts, surface):
                continue
            far = beyond(facts, surface)
        except Open:
            continue
        insulated = [i for i, layer in enumerate(layers) if "insulation" in roles(layer)]
        tight = [i for i, layer in enumerate(layers) if "retarder" in roles(layer)]
        if insulated and tight and max(tight) < min(insulated):
            layer = layers[max(tight)]
            yield said(
                layer,
                f"the retarder `{layer.key}` of {surface.address} lies on the cold side of "
                f"`{layers[min(insulated)].key}`: {far.key.replace('_', ' ')} is warmer "
                "than the room "
                "in summer and in winter",
                "move it to the warm side of the insulation",
                surface,
            )


@rule(
    "envelope.two-retarders",
    level=Level.ERROR,
    trades=("insulation", "framing"),
    why="What gets between two vapor-tight layers - from a leak, or built in wet - cannot dry to "
    "either side.",
    source="classes of vapor retarders, IRC R702.7; EN ISO 10456 where no permeance is written",
    bad=WARM.replace("LAYERS", f"inner: {_FOIL.partition(': ')[2]}, {_WOOL}, {_FOIL}"),
    good=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}, {_FOIL}"),
)
def two_retarders(facts: Facts) -> Iterator[Said]:
    """A layer that lets vapor in lies between two that let none out."""
    told: set[str] = set()
    for surface in _surfaces(facts):
        try:
            layers = build_up.through(facts, surface)
        except Open:
            continue
        tight = [i for i, layer in enumerate(layers) if _is_tight(facts, layer)]
        for first, second in pairwise(tight):
            one, other = layers[first], layers[second]
            between = [layer for layer in layers[first + 1 : second] if _is_open(facts, layer)]
            if between and one.address not in told:
                told.add(one.address)
                yield said(
                    one,
                    f"`{between[0].key}` of {_assembly(surface, layers).key} lies between two "
                    f"vapor-tight layers, `{one.key}` and `{other.key}`",
                    "keep the one on the warm side",
                    other,
                )


def _class(facts: Facts, layer: Node) -> int | None:
    """Class of a layer as a retarder, 0 for none; None where nothing is known of it."""
    try:
        return moisture.retarder_class(facts, layer)
    except (Open, OutOfRange):
        return None


def _is_tight(facts: Facts, layer: Node) -> bool:
    """A retarder of class I or II, or any layer of class I."""
    return _class(facts, layer) in ((1, 2) if "retarder" in roles(layer) else (1,))


def _is_open(facts: Facts, layer: Node) -> bool:
    """A layer, no mere sheet, through which vapor goes."""
    return thickness(layer) > _SHEET and _class(facts, layer) in (0, 3)


@rule(
    "envelope.retarder-too-open",
    level=Level.ERROR,
    trades=("insulation", "framing", "flooring"),
    why="A layer that lets vapor through is no retarder, whatever its role says.",
    source="IRC R702.7, classes of vapor retarders; cited from memory",
    bad=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}, {_FOIL.replace('0.05', '8')}"),
    good=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}, {_FOIL}"),
)
def retarder_too_open(facts: Facts) -> Iterator[Said]:
    """The permeance of a retarder is above the house's limit."""
    most = facts.job.threshold("retarder.most_perm")
    told: set[str] = set()
    for surface in _surfaces(facts):
        try:
            layers = build_up.through(facts, surface)
        except Open:
            continue
        for layer in _retarders(layers):
            perm = layer.find("perm")
            if perm is None or perm.value is None or perm.address in told:
                continue
            if layer.si("perm") > most.si:
                told.add(perm.address)
                yield said(
                    perm,
                    f"the retarder `{layer.key}` of {surface.address} has {perm.written}; "
                    "the house "
                    f"takes {most.written} at most",
                    "choose a tighter material, or take its role away and add a retarder",
                    surface,
                )


@rule(
    "envelope.hole-not-sealed",
    level=Level.ERROR,
    silence=True,
    trades=("insulation", "electrical", "refrigeration"),
    why="A hole without a seal lets in more water than the whole surface around it.",
    bad=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}, {_FOIL}").replace(
        "assembly: A1}}", "assembly: A1, devices: {RC1: {is: receptacle}}}}"
    ),
    good=WARM.replace("LAYERS", f"{_BOARD}, {_WOOL}, {_FOIL}").replace(
        "assembly: A1}}",
        "assembly: A1, devices: {RC1: {is: receptacle, sealed: {retarder: gasketed box}}}}}",
    ),
)
def hole_not_sealed(facts: Facts) -> Iterator[Said]:
    """A hole, a box or a recessed machine in a surface with a retarder says nothing of its seal."""
    for surface in kinds.surfaces(facts.job):
        pierced = list(_pierced(facts, surface))
        if not pierced or not _tight(facts, surface):
            continue
        for thing in pierced:
            seal = thing.find("sealed.retarder")
            if seal is None:
                yield said(
                    f"{thing.address}.sealed",
                    f"{thing.key} goes through the retarder of {surface.address} and "
                    "nothing says how "
                    "it is sealed",
                    f"write at {thing.key} `sealed: {{retarder: how}}`",
                    surface,
                    thing,
                    f"{thing.address}.sealed.retarder",
                )


@rule(
    "envelope.fire-not-sealed",
    level=Level.ERROR,
    trades=("insulation", "board", "electrical"),
    why="A hole through a fire-rated wall, closed with foam alone, is a chimney.",
    source="IRC R302.4, penetrations of fire-resistant walls; cited from memory",
    each=("hole",),
    bad=WARM.replace(
        "LAYERS", f"{_BOARD}, fire: {{material: fire_rated_gypsum, thickness: 16 mm, role: board}}"
    ).replace(
        "assembly: A1}}", "assembly: A1, holes: {H1: {size: 2 in, sealed: {retarder: foam}}}}}"
    ),
    good=WARM.replace(
        "LAYERS", f"{_BOARD}, fire: {{material: fire_rated_gypsum, thickness: 16 mm, role: board}}"
    ).replace(
        "assembly: A1}}",
        "assembly: A1, holes: {H1: {size: 2 in, sealed: {retarder: foam, fire: putty pad}}}}}",
    ),
)
def fire_not_sealed(facts: Facts, hole: Node) -> Iterator[Said]:
    """A hole goes through a fire-rated layer with no fire seal, or has one where none is."""
    surface = facts.job.find(hole.surface) if hole.surface else None
    sealed = hole.find("sealed")
    if surface is None or sealed is None or not sealed.children:
        return
    try:
        layers = build_up.through(facts, surface)
    except Open:
        return
    rated = [layer for layer in layers if "fire" in layer.word("material", "")]
    seal = sealed.find("fire")
    if rated and seal is None:
        yield said(
            f"{sealed.address}.fire",
            f"{hole.key} goes through `{rated[0].key}` of {surface.address}, which is "
            "fire-rated, and "
            "has no fire seal",
            f"write at {hole.key} `sealed: {{fire: how}}`",
            hole,
            rated[0],
        )
    if seal is not None and not rated:
        yield said(
            seal,
            f"{hole.key} has a fire seal, and no layer of {surface.address} is fire-rated: "
            f"{', '.join(layer.key for layer in layers)}",
            "write the layer that is rated (`material: fire_rated_gypsum`), or take the seal away",
            hole,
            *(f"{layer.address}.material" for layer in layers),
            *layers,
        )


def _tight(facts: Facts, surface: Node) -> bool:
    try:
        layers = build_up.through(facts, surface)
        room = facts.job.thing(surface.room)
        far = beyond(facts, surface) if surface.find("back_of") is not None else None
    except Open:
        return False
    cooled = (room is not None and kinds.is_cooled(room)) or (
        far is not None and far.kind == "room" and kinds.is_cooled(far)
    )
    return cooled and bool(_retarders(layers))


def _pierced(facts: Facts, surface: Node) -> Iterator[Node]:
    for heading in ("holes", *_BOXES, "equipment"):
        for thing in surface.group(heading):
            if thing.children and _goes_through(thing):
                yield thing


def _goes_through(thing: Node) -> bool:
    if thing.kind in ("hole", "grille"):
        return True
    if thing.kind == "evaporator":
        return thing.find("above_ceiling") is not None
    if thing.heading in _BOXES:
        inside = thing.find("inside") is not None or thing.find("along") is not None
        surface_mounted = thing.kind in _NO_BOX or thing.kind == "sensor"
        return not inside and not surface_mounted and thing.find("where") is None
    return False
