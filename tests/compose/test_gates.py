"""What holds an order: open, assumed and unread decisions it rests on, errors there, silences."""

from __future__ import annotations

from pathlib import Path

import pytest

from spec.compose import orders
from spec.compose.blocks import cites_of
from spec.compose.gates import Gate, gates
from spec.finding import Finding, Level, Waived
from spec.job.record import recording
from spec.pipeline import Checked, check_file
from tests.resolved import facts_of

JOB = """
job: {revision: {mark: B, date: 2026-10-12}}
rooms:
  room_one:
    taped: {to: finish, who: Ansel, when: 2026-09-29}
    height: 8 ft
    walls_clockwise:
      WA:
        length: LENGTH
        openings: {D1: {is: door, left: 1 ft, leaf: {width: WIDTH, height: 80 in, weight: WEIGHT}}}
      WB: {length: 8 ft}
      WC: {length: 10 ft}
      WD: {length: 8 ft}
"""


def held(
    cites: set[str], findings: tuple[Finding, ...] = (), trade: str = "doors", **facts: str
) -> tuple[list[str], list[str]]:
    """The addresses that hold the material and the build gate."""
    text = JOB
    for key in ("LENGTH", "WIDTH", "WEIGHT"):
        default = {"LENGTH": "10 ft", "WIDTH": "30 in", "WEIGHT": "60 lb"}[key]
        text = text.replace(key, facts.get(key.lower(), default))
    both = gates(facts_of(text), findings, trade, cites)
    return tuple([r.address for r in gate.reasons] for gate in both)  # type: ignore[return-value]


def finding(job_text: str, address: str, rule: str, **more: object) -> Finding:
    spot = facts_of(job_text).job.spot(address)
    values: dict[str, object] = {
        "rule": rule,
        "level": Level.ERROR,
        "message": "it is so",
        "cure": "make it otherwise",
        "spots": (spot,),
        **more,
    }
    return Finding(**values)  # type: ignore[arg-type]


def test_nothing_holds_an_order_of_decided_things() -> None:
    assert held({"D1.leaf.width", "WA.length"}) == ([], [])


@pytest.mark.parametrize(
    "width",
    [
        "TBD",
        "{open: client}",
        "{open: client, meanwhile: 30 in}",
        "{open: client, either: {small: 28 in, large: 32 in}}",
        "{assumed: 30 in}",
        "30 cubits",
    ],
)
def test_a_what_is_not_settled_holds_who_cites_it_and_nobody_else(width: str) -> None:
    assert held({"D1.leaf.width"}, width=width) == (["D1.leaf.width"], ["D1.leaf.width"])
    assert held({"D1.leaf.height"}, width=width) == ([], [])


@pytest.mark.parametrize("width", ["{not_applicable: no leaf}", "30 in"])
def test_what_is_answered_holds_nothing(width: str) -> None:
    assert held({"D1.leaf.width"}, width=width) == ([], [])


def test_an_outer_state_holds_what_stands_in_it() -> None:
    text = JOB.replace("{is: door,", "{open: client, meanwhile: {is: door,").replace(
        "WEIGHT}}}", "60 lb}}}}"
    )
    facts = facts_of(text.replace("LENGTH", "10 ft").replace("WIDTH", "30 in"))
    material, build = gates(facts, (), "doors", {"D1.leaf.width"})
    assert [r.address for r in material.reasons] == ["D1"] == [r.address for r in build.reasons]


def test_b_an_error_at_what_the_order_rests_on_holds_both_gates() -> None:
    wrong = finding(JOB, "D1.leaf", "openings.wrong")
    assert held({"D1.leaf.width"}, (wrong,)) == (["D1.leaf"], ["D1.leaf"])
    assert held({"WB.length"}, (wrong,)) == ([], [])


def test_b_the_second_side_of_a_conflict_counts_too() -> None:
    other = facts_of(JOB).job.spot("WB.length")
    wrong = finding(JOB, "D1.leaf", "openings.wrong")
    both = finding(JOB, "D1.leaf", "openings.wrong", spots=(*wrong.spots, other))
    assert held({"WB.length"}, (both,))[0] == ["D1.leaf"]


@pytest.mark.parametrize("level", [Level.WARNING, Level.NOTE])
def test_b_what_is_no_error_holds_nothing(level: Level) -> None:
    assert held({"D1.leaf"}, (finding(JOB, "D1.leaf", "openings.wrong", level=level),)) == ([], [])


def test_b_a_waived_error_holds_nothing() -> None:
    waived = finding(JOB, "D1.leaf", "x.y", waived=Waived("Tamsin", "2026-10-01", "it is so"))
    assert held({"D1.leaf"}, (waived,)) == ([], [])


def test_b_an_unknown_key_holds_what_rests_on_the_thing_that_it_stands_in() -> None:
    text = (
        JOB.replace("LENGTH", "1 ft")
        .replace("WIDTH", "1 ft, widht: 2 ft")
        .replace("WEIGHT", "1 lb")
    )
    facts = facts_of(text)
    material, _ = gates(facts, facts.job.findings, "doors", {"D1.leaf.height"})
    assert [r.address for r in material.reasons] == ["D1.leaf.widht"]
    other, _ = gates(facts, facts.job.findings, "framing", {"WA.length"})
    assert not other.held


@pytest.mark.parametrize(
    ("stage", "material", "build"),
    [
        ("measure", True, True),
        ("order_material", True, True),
        ("rough", False, True),
        ("finish", False, True),
    ],
)
def test_c_a_silence_holds_its_trades_by_the_stage_that_it_must_precede(
    stage: str, material: bool, build: bool
) -> None:
    silent = finding(JOB, "D1.seals", "openings.not-decided", trades=("doors",), stage=stage)
    first, second = held(set(), (silent,))
    assert (bool(first), bool(second)) == (material, build)
    assert held({"D1.seals"}, (silent,), trade="framing") == ([], [])


def test_the_gate_follows_the_stage_before_which_a_decision_is_needed(starters: Path) -> None:
    """An open decision that is needed after the ordering holds the build gate only."""
    checked = check_file(starters / "garden_store" / "job.yaml", so_far=True)
    late = [
        node
        for node in checked.job.tree.walk()
        if node.state is not None and node.state.kind == "open" and node.decision.gate == "build"
    ]
    early = [
        node
        for node in checked.job.tree.walk()
        if node.state is not None and node.state.kind == "open" and node.decision.gate == "material"
    ]
    assert early
    for node in (*late, *early):
        material, build = gates(checked.facts, (), "millwork", {node.address})
        assert build.held and material.held == (node in early)


def plant(folder: Path, starters: Path, old: str, new: str) -> Checked:
    source = (starters / "garden_store" / "job.yaml").read_text(encoding="utf-8")
    assert source.count(old) == 1, old
    path = folder / "job.yaml"
    (folder / "house.yaml").write_bytes((starters / "garden_store" / "house.yaml").read_bytes())
    for picture in (starters / "garden_store").glob("*.png"):
        (folder / picture.name).write_bytes(picture.read_bytes())
    path.write_text(source.replace(old, new), encoding="utf-8")
    return check_file(path, shown_as="job.yaml")


def of_trade(checked: Checked, trade: str) -> tuple[Gate, Gate]:
    for reader, order in orders(checked):
        if reader.trade == trade:
            return gates(checked.facts, checked.findings, trade, cites_of(order.blocks))
    raise AssertionError(trade)


def test_what_an_order_rests_on_through_a_figure_holds_it(tmp_path: Path, starters: Path) -> None:
    """The power of a strip follows from its product: the electrician's order waits for it."""
    old = "product: strip_4w"
    checked = plant(tmp_path, starters, old, "product: {open: client, meanwhile: strip_4w}")
    material, build = of_trade(checked, "electrical")
    assert "LS5.product" in {r.address for r in material.reasons}
    assert "LS5.product" in {r.address for r in build.reasons}
    flooring = of_trade(checked, "flooring")
    assert not [r for gate in flooring for r in gate.reasons if r.address == "LS5.product"]


def test_every_reason_says_where(tmp_path: Path, starters: Path) -> None:
    checked = check_file(starters / "garden_store" / "job.yaml", shown_as="job.yaml")
    reasons = [
        reason
        for reader, order in orders(checked)
        for gate in gates(checked.facts, checked.findings, reader.trade, cites_of(order.blocks))
        for reason in gate.reasons
    ]
    assert reasons
    for reason in reasons:
        assert reason.place.line > 0 and reason.place.file and reason.words and reason.address


def test_reading_a_decision_is_what_makes_it_an_input() -> None:
    """The inputs of a finished wall are exactly what was read for it."""
    facts = facts_of(
        JOB.replace("LENGTH", "10 ft").replace("WIDTH", "3 ft").replace("WEIGHT", "1 lb")
    )
    wall = facts.job.walls[0]
    with recording() as read:
        facts.places.net_area(wall)
    assert {"WA.length", "WB.length", "room_one.height", "D1.leaf.width", "D1.leaf.height"} <= read
    assert "D1.leaf.weight" not in read and "job.revision.date" not in read
