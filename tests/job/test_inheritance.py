"""`like` and `product`: what is taken over, what never is, where it came from, what rests on it."""

from __future__ import annotations

import pytest

from spec.compose.gates import gates
from spec.job.node import Node
from spec.job.record import recording
from tests.resolved import facts_of, job_of, one

BASE = """
  base_wall:
    title: The usual wall
    from_room_outward:
      board: {material: gypsum_board, thickness: 1/2 in, role: board}
      studs: {material: mineral_wool, thickness: 3 in, role: [structure, insulation]}
      siding: {material: cypress_siding, thickness: 3/4 in, role: structure}
"""


def layers(text: str, name: str = "A1") -> list[str]:
    job = job_of(f"assemblies:\n{text}{BASE}")
    assert not job.findings, job.findings[0].message
    found = job.find(f"{name}.from_room_outward")
    assert found is not None
    return list(found.children)


def thing(text: str, address: str) -> Node:
    found = job_of(text).find(address)
    assert found is not None
    return found


def test_maps_are_merged_and_lists_replaced() -> None:
    job = job_of(
        "assemblies:\n  A1: {like: base_wall, from_room_outward: "
        "{studs: {thickness: 2 in, role: structure}}}" + BASE
    )
    studs = job.find("A1.studs")
    assert studs is not None
    assert studs.words("role") == ("structure",)
    assert studs.si("thickness") == pytest.approx(0.0508)
    assert studs.word("material") == "mineral_wool"
    unchanged = job.find("base_wall.studs")
    assert unchanged is not None and unchanged.si("thickness") == pytest.approx(0.0762)


def test_an_inherited_entry_is_dropped() -> None:
    text = "  A1: {like: base_wall, from_room_outward: {board: {dropped: wet side}}}"
    assert layers(text) == ["studs", "siding"]


@pytest.mark.parametrize(
    ("new", "wanted"),
    [
        ("cork: {M, before: studs}", "board cork studs siding"),
        ("cork: {M, after: studs}", "board studs cork siding"),
        ("cork: {M, before: board}", "cork board studs siding"),
        ("cork: {M, after: siding}", "board studs siding cork"),
        ("cork: {M}", "board studs siding cork"),
        ("cork: {M, after: foil}, foil: {M, before: studs}", "board foil cork studs siding"),
        ("cork: {M, before: siding}, board: {dropped: wet}", "studs cork siding"),
    ],
)
def test_a_new_entry_comes_where_it_says(new: str, wanted: str) -> None:
    new = new.replace("M", "material: cork, thickness: 1 in")
    assert layers(f"  A1: {{like: base_wall, from_room_outward: {{{new}}}}}") == wanted.split()


def test_a_neighbor_that_is_not_there_is_said() -> None:
    text = "assemblies:\n  A1: {like: base_wall, from_room_outward: "
    text += "{cork: {material: cork, before: stud}}}"
    found = one(job_of(text + BASE).findings, "reading.no-neighbor")
    assert "did you mean `studs`" in found.message and found.address == "A1.cork.before"


def test_dropping_what_is_not_there_is_said() -> None:
    text = "assemblies:\n  A1: {like: base_wall, from_room_outward: {sidng: {dropped: open}}}"
    assert one(job_of(text + BASE).findings, "reading.nothing-to-drop").address == "A1.sidng"


def test_the_order_in_the_file_makes_no_difference() -> None:
    first = "  A1: {like: A2, title: One}\n"
    second = "  A2: {like: base_wall, from_room_outward: {board: {thickness: 5/8 in}}}\n"
    before = job_of("assemblies:\n" + first + second + BASE.lstrip("\n"))
    after = job_of("assemblies:" + BASE + second + first)
    for address in ("A1.title", "A1.board.thickness", "A1.studs.thickness", "A2.board.thickness"):
        one_way, other = before.find(address), after.find(address)
        assert (one_way and one_way.written) == (other and other.written)
        assert (one_way and one_way.model) == (other and other.model)


def test_a_chain_ends_at_whoever_wrote_the_fact() -> None:
    text = "assemblies:\n  A1: {like: A2}\n  A2: {like: base_wall, from_room_outward: "
    text += "{board: {thickness: 5/8 in}}}"
    job = job_of(text + BASE)
    near, far = job.find("A1.board.thickness"), job.find("A1.studs.thickness")
    assert near is not None and far is not None
    assert (near.written, near.origin, near.model) == ("5/8 in", "like A2", "A2.board.thickness")
    assert (far.origin, far.model) == ("like base_wall", "base_wall.studs.thickness")
    for leaf in (near, far):
        model = job.find(leaf.model)
        assert model is not None and model.place == leaf.place
        assert leaf.through == "A1.like"


def test_reading_an_inherited_fact_reads_the_model_and_the_link() -> None:
    node = thing("assemblies:\n  A1: {like: base_wall}" + BASE, "A1")
    with recording() as read:
        node.si("studs.thickness")
    assert read == {"A1.studs.thickness", "base_wall.studs.thickness", "A1.like"}


@pytest.mark.parametrize(
    "text",
    [
        "  A1: {like: A1}",
        "  A1: {like: A2}\n  A2: {like: A1}",
        "  A1: {like: A2}\n  A2: {like: A3}\n  A3: {like: A1, title: three}",
    ],
)
def test_a_loop_is_named_once_with_all_who_are_in_it(text: str) -> None:
    found = one(job_of("assemblies:\n" + text).findings, "reading.loop")
    for name in ("A1", "A2", "A3"):
        assert (name in found.message) == (name in text)
    assert found.address


def test_a_name_that_names_nothing_is_an_error_of_the_thing() -> None:
    job = job_of("assemblies:\n  A1: {like: base_wal}" + BASE)
    found = one(job.findings, "job.names-nothing")
    assert found.address == "A1" and "did you mean `base_wall`" in found.message


DEVICES = """
elsewhere: {PN1: {is: panelboard}}
circuits: {C1: {panelboard: PN1}}
products: {box_a: {is: box, gangs: 1}}
rooms:
  room_one:
    floor: {stops: {RC1: {line: middle, meets: nothing}}}
    walls_clockwise:
      WA:
        devices:
          RC1: {is: receptacle, PLACE, box: box_a, fed_from: C1}
          RC2: {like: RC1}
"""


@pytest.mark.parametrize(
    "place",
    ["left: 20 in, bottom: 16 in", "right: 20 in, top: 16 in", "center: 20 in, aff: 16 in"],
)
def test_facts_about_a_place_are_never_copied(place: str) -> None:
    node = thing(DEVICES.replace("PLACE", place), "RC2")
    assert node.kind == "receptacle" and node.word("box") == "box_a"
    assert not {"left", "right", "center", "bottom", "top", "aff", "fed_from"} & set(node.children)


def test_a_place_of_ones_own_is_not_mixed_with_that_of_the_model() -> None:
    text = """
    rooms:
      room_one:
        walls_clockwise: {WA: {length: 9 ft}, WB: {length: 9 ft}, WC: {length: 9 ft}}
        ceiling:
          equipment:
            EV1: {is: evaporator, center: {WA: 3 ft, WB: 3 ft}, extent: {WA: 2 ft, WB: 2 ft}}
            EV2: {like: EV1, center: {WB: 4 ft, WC: 4 ft}}
    """
    node = thing(text, "EV2.center")
    assert list(node.children) == ["WB", "WC"]
    assert thing(text, "EV2.extent.WA").origin == "like EV1"


def test_widths_are_copied_and_inherited_places_of_kinds_that_are_sizes_too() -> None:
    text = """
    finishes:
      F1: {is: plaster, title: Lime, edge: stopped bead, thickness: 3/8 in}
      F2: {like: F1, title: Lime too}
    """
    node = thing(text, "F2")
    assert node.word("edge") == "stopped bead"  # of a finish it says how it ends, not where
    assert node.si("thickness") == pytest.approx(0.009525)
    assert node.word("title") == "Lime too"


PRODUCTS = """
products:
  strip_a: {is: strip, watts: 2 W/ft, voltage: 24 V}
  strip_b: {is: strip, watts: 4 W/ft, color: 2700 K}
rooms:
  room_one:
    walls_clockwise:
      WA:
        lights:
          LS1: {product: PRODUCT, voltage: 12 V}
          LS2: {like: LS1}
          LS3: {like: LS1, product: strip_b}
"""


def test_a_product_gives_its_kind_and_facts_unless_the_thing_has_its_own() -> None:
    job = job_of(PRODUCTS.replace("PRODUCT", "strip_a"))
    node = job.find("LS1")
    assert node is not None and node.kind == "strip"
    assert [c.written for c in node.children.values()] != []
    assert node.text("watts") == "2 W/ft" and node.text("voltage") == "12 V"
    watts = job.find("LS1.watts")
    assert watts is not None
    assert (watts.origin, watts.model, watts.through) == (
        "product strip_a",
        "strip_a.watts",
        "LS1.product",
    )


def test_who_is_like_another_has_its_product_and_its_own_product_counts_first() -> None:
    job = job_of(PRODUCTS.replace("PRODUCT", "strip_a"))
    same, other = job.find("LS2"), job.find("LS3")
    assert same is not None and other is not None
    assert same.word("product") == "strip_a" and same.text("watts") == "2 W/ft"
    assert other.word("product") == "strip_b" and other.text("watts") == "4 W/ft"
    assert other.text("voltage") == "12 V"  # written at LS1 itself


def held(address: str, product: str) -> set[str]:
    facts = facts_of(PRODUCTS.replace("PRODUCT", product))
    node = facts.job.find(address)
    assert node is not None
    with recording() as read:
        node.parent.text(node.key) if node.parent else None
    material, _ = gates(facts, (), "electrical", read)
    return {reason.address for reason in material.reasons}


@pytest.mark.parametrize("address", ["LS1.watts", "LS2.watts"])
def test_what_rests_on_an_open_product_is_held(address: str) -> None:
    assert held(address, "{open: client, meanwhile: strip_a}")
    assert not held(address, "strip_a")


def test_what_does_not_rest_on_the_open_product_is_not_held() -> None:
    assert not held("LS1.voltage", "{open: client, meanwhile: strip_a}")
    assert not held("LS3.watts", "{open: client, meanwhile: strip_a}")


def test_a_product_chosen_from_several_brings_each_its_own_facts() -> None:
    text = PRODUCTS.replace("PRODUCT", "{open: client, either: {one: strip_a, two: strip_b}}")
    job = job_of(text)
    node = job.find("LS1.product")
    assert node is not None and node.state is not None
    other = job_of(text, choose={node.state.place: "two"})
    watts, changed = job.find("LS1.watts"), other.find("LS1.watts")
    assert watts is not None and changed is not None
    assert (watts.written, changed.written) == ("2 W/ft", "4 W/ft")


def test_a_name_under_a_key_that_holds_no_entries_is_not_taken_for_the_thing() -> None:
    """The stop at RC1, written before the receptacle, is no thing to be like."""
    node = thing(DEVICES.replace("PLACE", "center: 20 in, aff: 16 in"), "RC2")
    assert "line" not in node.children and node.kind == "receptacle"


def test_a_wall_like_another_is_refused_in_words_once() -> None:
    job = job_of("""
rooms:
  room_one:
    walls_clockwise:
      WA: {length: 8 ft, devices: {RC1: {is: receptacle, center: 3 ft, aff: 16 in}}}
      WC: {like: WA, length: 7 ft}
""")
    assert [finding.address for finding in job.findings] == ["WC"]
    assert "cannot be like WA" in job.findings[0].message and "assembly" in job.findings[0].cure
    wall = job.find("WC")
    assert wall is not None and wall.find("devices") is None
    assert wall.si("length") == pytest.approx(7 * 0.3048)


def test_what_was_said_of_a_part_is_not_copied_with_it() -> None:
    text = BASE.replace("role: board}", "role: board, note: Hung last., tell: {board: Foil face.}}")
    job = job_of(f"assemblies:\n  A1: {{like: base_wall}}{text}")
    board, own = job.find("A1.board"), job.find("base_wall.board")
    assert board is not None and board.word("material") == "gypsum_board"
    assert board.find("note") is None and board.find("tell") is None
    assert own is not None and own.find("note") is not None and own.find("tell.board") is not None
