"""Stacks and runs: how high a tier stands, where a piece starts, corners, rests, several tiers."""

from __future__ import annotations

import pytest

from spec.derive.figure import Facts
from spec.job.node import Node, Open
from spec.place import Piece, Run
from tests.resolved import facts_of

INCH = 0.0254

ROOM = """
rooms:
  room_one:
    taped: {to: finish}
    height: 96 in
    stacks:
      racks:
        bottom_to_top:
          plinth: {is: plinth, height: 4 in}
          lower: {is: racks, height: 30 in, depth: 24 in}
          table: {is: top, height: 2 in, depth: 25 in}
          upper:
            is: racks
            depth: 14 in
            bottom_to_top:
              low: {is: racks, height: 20 in}
              display: {is: display_row, height: 12 in, depth: 16 in}
          free: {is: gap, height: FREE}
    walls_clockwise:
      WA:
        length: 120 in
        millwork:
          lower: {START left_to_right: {PIECES}}
      WB:
        length: 100 in
        millwork:
          lower: {left_to_right: {R8: {is: racks, width: 30 in}, R9: {is: filler, width: rest}}}
      WC: {length: 120 in}
      WD: {length: 100 in}
"""


def placed(pieces: str, start: str = "", free: str = "28 in") -> Facts:
    text = ROOM.replace("PIECES", pieces).replace("START", start).replace("FREE", free)
    return facts_of(text)


def run_of(facts: Facts, wall: str = "WA") -> Run:
    node = next(w for w in facts.job.walls if w.key == wall)
    (run,) = facts.places.runs(node)
    return run


def widths(run: Run) -> list[tuple[str, float, float]]:
    return [(p.node.key, round(p.left / INCH, 6), round(p.width / INCH, 6)) for p in run.pieces]


def test_pieces_stand_side_by_side_from_the_left_corner() -> None:
    run = run_of(placed("R1: {is: racks, width: 40 in}, R2: {is: racks, width: 80 in}"))
    assert widths(run) == [("R1", 0, 40), ("R2", 40, 80)]
    assert run.left_over == pytest.approx(0)


@pytest.mark.parametrize(
    ("pieces", "wanted"),
    [
        ("R1: {is: racks, width: 40 in}, R2: {is: filler, width: rest}", [40, 80]),
        ("R1: {is: filler, width: rest}, R2: {is: racks, width: 40 in}", [80, 40]),
        (
            "R1: {is: filler, width: rest}, R2: {is: racks, width: 40 in}, "
            "R3: {is: filler, width: rest}",
            [40, 40, 40],
        ),
    ],
)
def test_what_says_rest_shares_what_the_others_leave(pieces: str, wanted: list[float]) -> None:
    run = run_of(placed(pieces))
    assert [w for _, _, w in widths(run)] == pytest.approx(wanted)
    assert run.left_over is None


@pytest.mark.parametrize(
    ("pieces", "left_over"),
    [
        ("R1: {is: racks, width: 110 in}", 10),
        ("R1: {is: racks, width: 130 in}", -10),
        ("R1: {is: racks, width: 130 in}, R2: {is: filler, width: rest}", -10),
    ],
)
def test_a_run_that_does_not_fit_says_by_how_much(pieces: str, left_over: float) -> None:
    found = run_of(placed(pieces)).left_over
    assert found is not None and found / INCH == pytest.approx(left_over)


@pytest.mark.parametrize(
    ("start", "first", "wide"),
    [
        ("left: 10 in, width: 60 in,", 10, 60),
        ("left: 10 in,", 10, 110),
        ("width: 60 in,", 0, 60),
        ("left: 10 in, right: 20 in,", 10, 90),
        ("right: 20 in,", 0, 100),
    ],
)
def test_a_run_may_start_and_end_short_of_the_corners(
    start: str, first: float, wide: float
) -> None:
    run = run_of(placed("R1: {is: filler, width: rest}", start))
    assert (run.start / INCH, run.width / INCH) == pytest.approx((first, wide))
    assert widths(run) == [("R1", first, wide)]


def test_what_turns_the_corner_takes_its_part_of_the_next_wall() -> None:
    facts = placed(
        "R1: {is: racks, width: 90 in}, R2: {is: curved_corner, width: 30 in, turns: 26 in}"
    )
    run = run_of(facts, "WB")
    assert widths(run) == [("R2", 0, 26), ("R8", 26, 30), ("R9", 56, 44)]
    assert [p.turned for p in run.pieces] == [True, False, False]
    own = facts.places.piece(thing(facts, "R2"))
    assert own is not None and own.left / INCH == pytest.approx(90) and not own.turned


def test_a_corner_whose_turn_is_open_is_waited_for_on_the_next_wall() -> None:
    facts = placed("R2: {is: curved_corner, width: 30 in, turns: TBD}")
    with pytest.raises(Open) as waiting:
        run_of(facts, "WB")
    assert waiting.value.address == "R2.turns"


def thing(facts: Facts, mark: str) -> Node:
    found = facts.job.thing(mark)
    assert found is not None
    return found


def piece(facts: Facts, mark: str = "R1") -> Piece:
    found = facts.places.piece(thing(facts, mark))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("takes", "bottom", "top", "depth"),
    [
        ("", 4, 34, 24),
        ("takes: [lower], ", 4, 34, 24),
        ("takes: [plinth, lower], ", 0, 34, 24),
        ("takes: [lower, table, low], ", 4, 56, 24),
        ("takes: [lower, display], depth: 20 in, ", 4, 68, 20),
        ("takes: [lower, upper], ", 4, 68, 24),
    ],
)
def test_a_piece_through_several_tiers(takes: str, bottom: float, top: float, depth: float) -> None:
    found = piece(placed(f"R1: {{is: racks, {takes}width: 120 in}}"))
    assert found.bottom / INCH == pytest.approx(bottom)
    assert (found.bottom + found.height) / INCH == pytest.approx(top)
    assert found.depth is not None and found.depth / INCH == pytest.approx(depth)


def test_a_tier_within_a_tier_has_its_own_height_and_depth() -> None:
    from spec.place import tiers

    facts = placed("R1: {is: racks, width: 120 in}")
    levels = tiers(thing(facts, "racks"), 96 * INCH)
    found = {
        name: (round(t.bottom / INCH), round(t.top / INCH), t.depth and round(t.depth / INCH))
        for name, t in levels.items()
    }
    assert found == {
        "plinth": (0, 4, None),
        "lower": (4, 34, 24),
        "table": (34, 36, 25),
        "upper": (36, 68, 14),
        "low": (36, 56, 14),
        "display": (56, 68, 16),
        "free": (68, 96, None),
    }


@pytest.mark.parametrize(("free", "left"), [("28 in", 0), ("20 in", 8), ("30 in", -2)])
def test_a_stack_that_does_not_reach_the_ceiling_says_by_how_much(free: str, left: float) -> None:
    facts = placed("R1: {is: racks, width: 120 in}", free=free)
    found = facts.places.stack_left_over(thing(facts, "racks"))
    assert found is not None and found / INCH == pytest.approx(left, abs=1e-9)


@pytest.mark.parametrize(
    ("pieces", "start", "address"),
    [
        ("R1: {is: racks, width: TBD}", "", "R1.width"),
        ("R1: {is: racks, width: 3 ft}", "left: TBD,", "WA.lower.left"),
        ("R1: {is: racks, width: 3 ft}", "width: TBD,", "WA.lower.width"),
        ("R1: {is: racks}", "", "R1.width"),
    ],
)
def test_a_run_waits_for_what_is_open(pieces: str, start: str, address: str) -> None:
    with pytest.raises(Open) as waiting:
        run_of(placed(pieces, start))
    assert waiting.value.address == address


def test_a_piece_is_a_rectangle_on_its_wall() -> None:
    facts = placed("R1: {is: racks, width: 40 in}, R2: {is: racks, width: 80 in}")
    on = facts.places.rect(thing(facts, "R2"))
    assert (on.rect.left / INCH, on.rect.bottom / INCH) == pytest.approx((40, 4))
    assert on.depth is not None and on.depth / INCH == pytest.approx(24)
    wall = facts.job.walls[0]
    assert [o.node.key for o in facts.places.on(wall)] == ["R1", "R2"]
