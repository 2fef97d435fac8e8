"""What must be known, and kept alive, before anything is taken out."""

from __future__ import annotations

from collections.abc import Iterator

from spec.check.rule import Facts, Node, Said, rule, said
from spec.check.rules.existing.kept import action_of
from spec.finding import Level
from spec.job.stage import first_day

_UNKNOWN = ("not tested", "unknown", "not_tested", "suspected")


_OLD = """
job: {site: {built: YEAR}}
surveys: {lead_paint: {result: PAINT}, asbestos: {result: FIBER, when: 2026-04-01}}
trades: {demolition: {visits: {strip: {starts: 2026-05-04}}}}
"""


@rule(
    "existing.action-on-new-thing",
    level=Level.ERROR,
    trades=("demolition", "electrical"),
    why="What is removed, stored or put back is there already; a thing that does not say so "
    "is bought "
    "anew.",
    bad="rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, action: [remove, "
    "reinstall]}}}}}",
    good="rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, state: existing, "
    "action: [remove, reinstall]}}}}}",
)
def action_on_new_thing(facts: Facts) -> Iterator[Said]:
    """A thing has an `action` and does not say that it exists."""
    for thing in facts.job.everything:
        if thing.find("action") is None or thing.heading == "existing" or not thing.surface:
            continue
        state = thing.find("state")
        if state is None or state.value == "new":
            yield said(
                f"{thing.address}.state",
                f"{thing.key} is to {' and '.join(action_of(thing))}, but nothing says that "
                "it is there "
                "already",
                f"write `state: existing` at {thing.key}, or take its action away",
                thing,
            )


@rule(
    "existing.lead-paint-unknown",
    level=Level.ERROR,
    silence=True,
    trades=("demolition", "painting"),
    why="Paint of before 1978 may hold lead: who sands it without knowing poisons the house.",
    source="40 CFR 745, renovation of housing built before 1978; cited from memory",
    bad=_OLD.replace("YEAR", "1938").replace("PAINT", "not tested").replace("FIBER", "none found"),
    good=_OLD.replace("YEAR", "1938").replace("PAINT", "none found").replace("FIBER", "none found"),
)
def lead_paint_unknown(facts: Facts) -> Iterator[Said]:
    """A house built before 1978 has no result of a survey for lead paint."""
    yield from _survey(facts, "lead_paint", 1978)


@rule(
    "existing.asbestos-unknown",
    level=Level.ERROR,
    silence=True,
    trades=("demolition",),
    why="What was built before about 1980 may hold asbestos; demolition sets it free.",
    source="common practice; 40 CFR 61 subpart M for its scope, cited from memory",
    bad=_OLD.replace("YEAR", "1938").replace("PAINT", "none found").replace("FIBER", "not tested"),
    good=_OLD.replace("YEAR", "1938").replace("PAINT", "none found").replace("FIBER", "none found"),
)
def asbestos_unknown(facts: Facts) -> Iterator[Said]:
    """A house built before 1980 has no result for asbestos, or has it after demolition."""
    yield from _survey(facts, "asbestos", 1980)


def _survey(facts: Facts, name: str, before: int) -> Iterator[Said]:
    built = facts.job.find("job.site.built")
    if built is None or not isinstance(built.value, int) or built.value >= before:
        return
    first = next((v for v in facts.job.things("visit") if _of_demolition(v)), None)
    survey = facts.job.find(f"surveys.{name}")
    if first is None:
        return
    result = survey.find("result") if survey is not None else None
    words = name.replace("_", " ")
    if survey is None or result is None or result.written.lower() in _UNKNOWN:
        yield said(
            f"surveys.{name}.result",
            f"the house was built in {built.written}, and nothing is known of {words}",
            f"have it looked for before {first.address}",
            built,
            first,
            f"surveys.{name}",
        )
        return
    when, starts = survey.find("when"), first_day(first)
    day = survey.date("when") if when is not None and when.value is not None else None
    if day is not None and starts is not None and day > starts:
        yield said(
            when or survey,
            f"{words} was looked for on {day.isoformat()}, demolition starts on "
            f"{starts.isoformat()}",
            "look first",
            first,
        )


def _of_demolition(visit: Node) -> bool:
    holder = visit.parent.parent if visit.parent is not None else None
    return holder is not None and holder.key == "demolition"


@rule(
    "existing.alarm-out",
    level=Level.ERROR,
    silence=True,
    trades=("electrical",),
    why="A house in which people sleep has one working smoke alarm in the room of the work, "
    "every night.",
    each=("smoke_alarm",),
    bad="rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, state: existing, "
    "action: [remove, reinstall]}}}}}",
    good="""
rooms: {tasting_room: {ceiling: {devices: {SD1: {is: smoke_alarm, state: existing,
    action: [remove, reinstall], kept_live: battery alarm in the hall}}}}}
""",
)
def alarm_out(facts: Facts, alarm: Node) -> Iterator[Said]:
    """A smoke alarm is taken down or moved, and nothing says what stands in for it."""
    out = set(action_of(alarm)) & {"remove", "move", "store"}
    if out and alarm.find("kept_live") is None and alarm.find("never_out") is None:
        key = "never_out" if alarm.heading == "existing" else "kept_live"
        yield said(
            f"{alarm.address}.{key}",
            f"{alarm.key} is taken down, and nothing says which alarm works meanwhile",
            f"write `{key}` at {alarm.key}",
            alarm,
        )
