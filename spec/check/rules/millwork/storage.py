"""What racks hold: bottles that fit their cells, and as many as were asked for."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.worked import known, worked
from spec.derive.sheets.bottles import bottle_named, default_bottle
from spec.finding import Level
from spec.place.runs import stack_of
from spec.quantity import show

_RACK = """
job: {asked_for: {bottles: ASKED, of_which: {single: ASKED}}}
bottles: {single: {diameter: 3-1/8 in, length: 12 in, full: 1.5 kg}}
rooms:
  wine_room:
    taped: {to: finish}
    height: 96 in
    use: wine_storage
    stacks: {racks: {bottom_to_top: {lower: {is: racks, height: 96 in, depth: DEEP, rows: ROWS,
        deep: 1}}}}
    walls_clockwise:
      WA: {length: 8 ft, millwork: {lower: {left_to_right: {R1: {width: 48 in, columns: COLUMNS},
          R2: {is: filler, width: 48 in}}}}}
      WB: {length: 6 ft}
      WC: {length: 8 ft}
      WD: {length: 6 ft}
"""


def _rack(asked: str = "200", deep: str = "14 in", rows: str = "23", columns: str = "12") -> str:
    return (
        _RACK.replace("ASKED", asked)
        .replace("DEEP", deep)
        .replace("ROWS", rows)
        .replace("COLUMNS", columns)
    )


def _size(facts: Facts, piece: Node) -> Node | None:
    """The bottle that a piece says, or its tier, or the usual one."""
    at: Node | None = piece
    if piece.find("bottle") is not None:
        return bottle_named(facts.job, piece.word("bottle"))
    run = piece.parent.parent if piece.parent is not None else None
    stack = stack_of(facts.job, run) if run is not None else None
    at = stack.find(run.key) if stack is not None and run is not None else None
    while at is not None and at is not stack:
        if at.find("bottle") is not None:
            return bottle_named(facts.job, at.word("bottle"))
        at = at.parent
    return default_bottle(facts.job)


@rule(
    "millwork.holds-too-few",
    level=Level.ERROR,
    silence=True,
    trades=("millwork",),
    why="The client counts; the count stands on the first page, with initials.",
    bad=_rack(asked="400"),
    good=_rack(asked="200"),
)
def holds_too_few(facts: Facts) -> Iterator[Said]:
    """The racks hold fewer bottles than were asked for, in all or of a size."""
    for asked, over in worked(facts, "job.over_asked"):
        if over < 0:
            yield said(
                asked.at("bottles"),
                f"{asked.text('bottles')} bottles are asked for, the racks hold {-over:.0f} fewer",
                "add columns, or ask the client what may go",
            )
    for size, over in worked(facts, "job.size_over_asked"):
        if over < 0:
            yield said(
                size,
                f"{size.written} bottles of {size.key} are asked for, there are places for "
                f"{-over:.0f} fewer",
                f"give a rack to {size.key}, or ask the client what may go",
            )


@rule(
    "millwork.size-not-asked-for",
    level=Level.ERROR,
    trades=("millwork",),
    why="A rack for a size that nobody asked for is a rack too many, or a wish that was lost.",
    bad=_rack()
    .replace("columns: 12}", "columns: 12, bottle: single}")
    .replace("of_which: {single: 200}", "of_which: {half: 1}"),
    good=_rack().replace("columns: 12}", "columns: 12, bottle: single}"),
)
def size_not_asked_for(facts: Facts) -> Iterator[Said]:
    """A rack says that it holds a size which is not among those asked for."""
    asked = facts.job.find("job.asked_for.of_which")
    if asked is None or not asked.mapped:
        return
    told: set[str] = set()
    for piece in facts.job.everything:
        size = piece.find("bottle")
        if piece.heading != "millwork" or size is None or not isinstance(size.value, str):
            continue
        if size.value not in asked.children and size.value not in told:
            told.add(size.value)
            yield said(
                f"{asked.address}.{size.value}",
                f"{piece.key} holds {size.value} bottles, and nobody asked for any",
                f"write `{size.value}` under `of_which`, or take another bottle for {piece.key}",
                piece,
            )


@rule(
    "millwork.pitch-out-of-range",
    level=Level.ERROR,
    trades=("millwork",),
    why="A cell too narrow takes no bottle, one too wide lets it roll.",
    bad=_rack(columns="15"),
    good=_rack(),
)
def pitch_out_of_range(facts: Facts) -> Iterator[Said]:
    """The columns of a rack are narrower or wider than the house builds for its bottle."""
    for piece, pitch in worked(facts, "storage.column_pitch"):
        size = _size(facts, piece)
        if piece.kind == "display_row" or (size is None and piece.find("bottle") is not None):
            continue
        name = size.key if size is not None else "single"
        try:
            low, high = facts.job.limits(f"{name}_cell.pitch")
        except KeyError:
            continue
        if not low - 0.0005 <= pitch <= high + 0.0005:
            limits = facts.job.threshold(f"{name}_cell.pitch").written
            yield said(
                piece.at("columns"),
                f"{piece.text('columns')} columns in {piece.key} are "
                f"{show(pitch, 'length', facts.job.system)} each; the house builds {limits} for a "
                f"{name.replace('_', ' ')} bottle",
                "change the columns or the width, or say which `bottle` it holds",
                f"{piece.address}.width",
                f"{piece.address}.bottle",
            )


@rule(
    "millwork.rows-too-close",
    level=Level.ERROR,
    trades=("millwork",),
    why="Rows closer than a bottle and its play do not take one.",
    bad=_rack(rows="40"),
    good=_rack(),
)
def rows_too_close(facts: Facts) -> Iterator[Said]:
    """The rows of a rack are closer than a bottle is thick, with the house's play."""
    play = facts.job.limit("cell.play")
    for piece, pitch in worked(facts, "storage.row_pitch"):
        size = _size(facts, piece)
        thick = size.si("diameter") if size is not None and size.find("diameter") else 0.0794
        if pitch < thick + play - 0.0005:
            system = facts.job.system
            yield said(
                f"{piece.address}.rows",
                f"the rows of {piece.key} are {show(pitch, 'length', system)} apart; a bottle of "
                f"{show(thick, 'length', system)} and {show(play, 'length', system)} of "
                "play need more",
                "take fewer rows, or a higher tier",
                piece,
            )


@rule(
    "millwork.bottle-longer-than-rack",
    level=Level.ERROR,
    trades=("millwork",),
    why="A bottle that stands out of its rack is knocked off by the next person.",
    bad=_rack(deep="10 in").replace("deep: 1", "deep: 2"),
    good=_rack(),
)
def bottle_longer_than_rack(facts: Facts) -> Iterator[Said]:
    """A rack is less deep than the bottles that lie behind each other in it."""
    for piece, room in worked(facts, "storage.bottle_room"):
        if room < -0.0005:
            system = facts.job.system
            size = _size(facts, piece)
            long = size.text("length") if size is not None and size.find("length") else "a bottle"
            yield said(
                piece,
                f"the bottles in {piece.key} stand out by {show(-room, 'length', system)}: each is "
                f"{long} long",
                "make the tier deeper, or lay fewer bottles behind each other",
                f"{piece.address}.deep",
                f"{piece.address}.bottle",
            )


@rule(
    "millwork.bin-overfull",
    level=Level.ERROR,
    trades=("millwork",),
    why="No more circles go into a square than geometry allows, whatever the brochure says.",
    source="best known packings of circles in a square (E. Specht); Oler's bound",
    each=("diamond_bin", "x_bin"),
    bad=_rack()
    .replace(
        "columns: 12}", "columns: 12}, R3: {is: diamond_bin, width: 24 in, bins: 4, each_holds: 90}"
    )
    .replace("width: 48 in}}}}", "width: 24 in}}}}"),
    good=_rack()
    .replace(
        "columns: 12}", "columns: 12}, R3: {is: diamond_bin, width: 24 in, bins: 4, each_holds: 20}"
    )
    .replace("width: 48 in}}}}", "width: 24 in}}}}"),
)
def bin_overfull(facts: Facts, piece: Node) -> Iterator[Said]:
    """A bin is said to hold more bottles than fit into it."""
    most = known(facts, "storage.bin_most", piece)
    holds = piece.find("each_holds")
    if most is None or holds is None or not isinstance(holds.value, int):
        return
    if holds.value > most:
        yield said(
            holds,
            f"each bin of {piece.key} is to hold {holds.written}, at most {most:.0f} fit",
            "write fewer, or make the bins larger",
            f"{piece.address}.bins",
        )
