"""Low voltage: what a Class 2 supply may give, and what arrives at the far end of a strip."""

from __future__ import annotations

from spec.derive.figure import Facts, Worked, figure
from spec.derive.formulas import low_voltage
from spec.derive.sheets import kinds
from spec.derive.sheets.dividing import over
from spec.derive.sheets.lighting import power_of, strips_on
from spec.derive.sheets.wires import resistance, wire
from spec.job.job import Job
from spec.job.node import Node, Open


def _american(job: Job) -> list[Node]:
    """Drivers whose output and voltage are said, with an American cable."""
    found = []
    for driver in job.things("driver"):
        if not all(kinds.says(driver, key) for key in ("power", "voltage", "cable.conductor")):
            continue
        try:
            if wire(driver.at("cable"), "conductor").gauge is not None:
                found.append(driver)
        except Open:
            continue
    return found


@figure(
    "lighting.class_2_limit",
    title="Most that a Class 2 supply may give",
    dimension="apparent_power",
    formula="by table",
    source="NEC 2023 725.60 (725.121 before), chapter 9 table 11(B), direct current, seen quoted: "
    "check the adopted edition",
    holds="a supply above it is no Class 2 source: its cable is laid like one of the house",
    per=_american,
    trades=("electrical",),
)
def class_2_limit(facts: Facts, driver: Node) -> float:
    """Rating up to which a driver's output may be Class 2."""
    return low_voltage.class_2_limit(driver.si("voltage"))


@figure(
    "lighting.far_end",
    title="Voltage lost at the far end of the strip",
    dimension="percent",
    formula="2 r L I / U + s (l / l_max)^2; r in Ω/m, I of all strips on this cable",
    source="Ohm's law; along the strip the load is even, so half of its current counts; s is its "
    "maker's",
    holds="fed at one end; each piece by itself, the longest counts",
    per=kinds.of_kind("strip", having="end_drop"),
    trades=("electrical",),
)
def far_end(facts: Facts, strip: Node) -> Worked:
    """Share of the supply that is lost on the way to the end of a strip."""
    driver = facts.job.thing(strip.word("fed_from"))
    if driver is None:
        raise Open(f"{strip.address}.fed_from")
    volts, watts = strip.si("voltage"), strip.si("watts")
    length = facts.figures.value("lighting.length", strip)
    if kinds.says(strip, "pieces"):
        length = max(part.value for part in facts.figures.get("lighting.length", strip).parts)
    run, share = strip.si("longest_run"), strip.si("end_drop")
    own = kinds.says(strip, "cable")
    cable = strip.at("cable") if own else driver.at("cable")
    beside = 0.0
    if not own:
        drawn = sum(power_of(facts, other) for other in strips_on(facts.job, driver))
        others = max(drawn - low_voltage.strip_load(length, watts), 0.0)
        beside = over(others, volts, "voltage of the strip", "V")
    ohms, way = resistance(facts.job, cable, "conductor"), cable.si("length")
    found = low_voltage.run(
        length,
        watts,
        volts,
        loop_resistance=low_voltage.loop_resistance(run, watts, volts, share),
        cable_length=way,
        cable_resistance=ohms,
        beside=beside,
    )
    return Worked(
        found.share,
        given=(
            ("r", ohms, "Ω/m"),
            ("L", way, "length"),
            ("I", found.current + beside, "current"),
            ("U", volts, "voltage"),
            ("s", share, "percent"),
            ("l", length, "length"),
            ("l_max", run, "length"),
        ),
    )
