"""Source to Job: states taken out, house standards and inheritance in, addresses, types, links."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path, PurePath

from spec.finding import Finding, Level, Place, Spot
from spec.job import inherit, links, paths, validate, weather
from spec.job.job import Job
from spec.job.overrides import Overrides
from spec.job.raw import Raw, raw_of
from spec.job.schema import root
from spec.job.walk import Walk
from spec.read import Source, Unusable, read


def resolve(
    source: Source,
    folder: Path | None = None,
    *,
    on: date | None = None,
    choose: Mapping[Place, str] | None = None,
) -> Job:
    """Resolve what was read.

    `folder` is where the paths in the job start (none: the job names no file), `on` the day to
    look at it, `choose` the alternative taken at each open decision that has several (by the
    place of its state). Everything that is wrong is among the job's findings; raises nothing
    that a job file could cause.
    """
    taken = choose or {}
    tree = raw_of(source.root, taken)
    findings = list(source.findings)
    house_source = _house(tree, folder, findings)
    house = raw_of(house_source.root, taken) if house_source else None
    roots = [tree] if house is None else [tree, house]
    findings += inherit.settle(roots)
    findings += weather.taken_over(tree, folder)
    over = Overrides(tree)
    walk = Walk(over, "mm" if tree.text("lengths") == "mm" else None)
    top = walk.whole(tree, root("root"))
    own = frozenset(walk.index)
    house_top = walk.whole(house, root("house")) if house is not None else None
    for address, shape in over.of_defaults(walk.index):
        walk.standard(address, over.entries[address], shape)
    findings += [*walk.findings, *over.misplaced(walk.index, own)]
    findings += validate.against_schema(tree, top, "root")
    if house is not None and house_top is not None:
        findings += validate.against_schema(house, house_top, "house")
    job = Job(source.name, top, house_top, walk.index, walk.names, (), on)
    findings += links.broken(job)
    if folder is not None:
        findings += paths.unfound(job, folder)
    job.findings = tuple(sorted(set(over.told_once(findings)), key=Finding.sort_key))
    return job


def _house(tree: Raw, folder: Path | None, findings: list[Finding]) -> Source | None:
    named = tree.map().get("house")
    if named is None or named.state is not None:
        return None
    file = named.map().get("file", named)
    if not isinstance(file.value, str) or folder is None:
        return None
    path = paths.inside(folder, file.value)
    cure = "name a file that lies beside the job file or in a folder below it"
    if path is None:
        message = f"the house standards `{file.value}` lie outside the job's folder"
        findings.append(_error("reading.path-outside", message, cure, file.place))
        return None
    try:
        shown_as = str(PurePath(file.place.file).parent / file.value)
        source = read(path, shown_as, version_key="scantling_house")
    except Unusable as error:
        said = error.finding
        message = f"the house standards `{file.value}` cannot be used: {said.message}"
        cure = said.cure or cure
        findings.append(_error("reading.no-house-standards", message, cure, file.place))
        return None
    findings += source.findings
    return source


def _error(rule: str, message: str, cure: str, place: Place) -> Finding:
    return Finding(rule, Level.ERROR, message, cure, (Spot("", place),))
