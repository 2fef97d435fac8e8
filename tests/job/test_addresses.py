"""Every node has exactly one address, which `find` and `show` take and print."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spec import files
from spec.job.job import Job
from spec.job.node import Node
from spec.pipeline import Checked, check_file
from spec.report import shown_thing
from tests.resolved import job_of, one

STARTERS = sorted(path.parent.name for path in files.templates().glob("jobs/*/job.yaml"))


@cache
def checked(name: str) -> Checked:
    """A starter as a lead checks it."""
    return check_file(files.templates() / "jobs" / name / "job.yaml", shown_as="job.yaml")


def nodes(job: Job) -> Iterator[Node]:
    for tree in (job.tree, job.house):
        if tree is not None:
            yield from (node for node in tree.walk() if node is not tree)


@pytest.mark.parametrize("name", STARTERS)
def test_every_node_is_found_by_its_address_and_by_no_other(name: str) -> None:
    job = checked(name).job
    lost = [node.address for node in nodes(job) if job.find(node.address) is not node]
    assert not lost
    counts = Counter(node.address for node in nodes(job))
    assert not [address for address, n in counts.items() if n > 1]
    assert len(counts) > 100


def some(job: Job) -> list[Node]:
    """One node for each key of each kind of thing: what is shown differs by these."""
    found: dict[tuple[str, str, bool], Node] = {}
    for node in nodes(job):
        upper = node.parent.kind if node.parent is not None else ""
        found.setdefault((node.kind or node.container, upper, bool(node.children)), node)
    return list(found.values())


@pytest.mark.parametrize("name", STARTERS)
def test_show_takes_and_prints_an_address_of_every_kind(name: str) -> None:
    for node in some(checked(name).job):
        text = shown_thing(checked(name), node.address)
        assert text is not None and text.startswith(f"{node.address}  ("), node.address


@pytest.mark.parametrize("name", STARTERS)
def test_show_gives_every_value_with_its_origin_and_line(name: str) -> None:
    for node in some(checked(name).job):
        if not node.container or node.container == "rooms" or node.shape.container:
            continue
        text = shown_thing(checked(name), node.address) or ""
        for leaf in node.leaves():
            assert f", {leaf.place}]" in text, leaf.address
            if leaf.origin.startswith(("like", "product")):
                assert f"[{leaf.origin}, " in text


@pytest.mark.parametrize("name", STARTERS)
def test_containers_are_left_out_and_no_other_key_is(name: str) -> None:
    for node in nodes(checked(name).job):
        upper = node.parent
        while upper is not None and upper.shape.container:
            upper = upper.parent
        above = upper.address if upper is not None else ""
        assert node.address in (node.key, f"{above}.{node.key}", f"house.{node.key}"), node.address


@pytest.mark.parametrize("name", STARTERS)
def test_an_absent_address_stands_at_its_nearest_ancestor(name: str) -> None:
    job = checked(name).job
    for room in job.rooms:
        assert job.spot(f"{room.address}.nowhere.at_all").place == room.key_place
    assert job.spot("nowhere.at_all").place.line == 1


@given(st.text(max_size=30))
def test_no_text_is_an_address_by_accident(text: str) -> None:
    job = checked("garden_store_first_visit").job
    found = job.find(text)
    assert found is None or found.address == text or text.startswith(found.address.split(".")[0])


TWICE = """
rooms:
  room_one:
    walls_clockwise:
      WA:
        openings: {D1: {is: door, left: 1 ft}}
      WB:
        openings: {D1: {is: door, left: 2 ft}}
"""


def test_a_mark_used_twice_is_said_once_with_both_places() -> None:
    found = one(job_of(TWICE).findings, "job.name-used-twice")
    assert "`D1`" in found.message
    lines = {spot.place.line for spot in found.spots}
    assert lines == {6, 8}
    assert job_of(TWICE).find("D1.left") is not None


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("finishes: {F1: {is: paint}}\ncircuits: {F1: {panelboard: TBD}}", "F1"),
        ("surroundings: {hall: TBD}\nrooms: {hall: {use: tasting}}", "hall"),
        ("people: {client: {name: A}}\nrooms: {client: {use: tasting}}", "client"),
        ("rooms: {one: {stacks: {racks: TBD}}, two: {stacks: {racks: TBD}}}", "racks"),
    ],
)
def test_marks_and_small_words_are_one_namespace(text: str, name: str) -> None:
    found = one(job_of(text).findings, "job.name-used-twice")
    assert f"`{name}`" in found.message and len({s.place for s in found.spots}) == 2


def test_tiers_of_two_stacks_and_facts_of_two_things_may_share_their_keys() -> None:
    text = """
    rooms:
      one:
        stacks:
          low: {bottom_to_top: {lower: {is: racks}}}
          high: {bottom_to_top: {lower: {is: racks}}}
    """
    job = job_of(text)
    assert not job.findings
    assert job.find("low.lower") is not job.find("high.lower") is not None


def test_a_house_word_used_again_by_the_job_is_said_once(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text(
        "scantling_house: 1\nedition: 2026-07\nproducts: {one: {is: sensor, lead_time: 3 weeks}}\n"
    )
    path = tmp_path / "job.yaml"
    path.write_text(
        "scantling: 1\nhouse: {file: house.yaml, edition: 2026-07}\n"
        "products: {one: {is: sensor, lead_time: 4 weeks}}\n"
    )
    job = check_file(path, shown_as="job.yaml", so_far=True).job
    found = one(job.findings, "job.name-used-twice")
    assert {spot.place.file for spot in found.spots} == {"job.yaml", "house.yaml"}
    assert [n.key for n in nodes(job) if n.address == "house.products"] == ["products"]
