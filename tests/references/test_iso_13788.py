"""ISO 13788: saturation as its annex has it, and the reversed drive of a cooled room."""

from __future__ import annotations

import math

import pytest

from spec.derive.formulas import moisture
from spec.derive.formulas.moisture import Layer, Month

BOARD, WOOL, RETARDER = (
    Layer(0.0125 / 0.25, 8 * 0.0125),
    Layer(0.14 / 0.035, 0.14),
    Layer(0.0, 50.0),
)
ON_COLD_SIDE, ON_WARM_SIDE = [BOARD, RETARDER, WOOL, BOARD], [BOARD, WOOL, RETARDER, BOARD]


@pytest.mark.parametrize("temperature", [0.0, 7.0, 12.5, 24.0])
def test_annex_e_saturation_above_freezing(temperature: float) -> None:
    expected = 610.5 * math.exp(17.269 * temperature / (237.3 + temperature))
    assert moisture.saturation(temperature) == pytest.approx(expected, rel=1e-12)


def test_annex_e_saturation_below_freezing_is_not_a_misprinted_copy() -> None:
    # 265.5 as published; copies have 267.5, which gives 261.0 Pa at -10 °C, or 265.6
    assert moisture.saturation(-10.0) == pytest.approx(
        610.5 * math.exp(-218.75 / (265.5 - 10.0)), rel=1e-12
    )


@pytest.mark.parametrize(
    ("layers", "humidity", "grams"),
    [
        (ON_COLD_SIDE, 0.50, 0.0),
        (ON_COLD_SIDE, 0.60, 17.6),
        (ON_WARM_SIDE, 0.50, 0.0),
        (ON_WARM_SIDE, 0.60, 0.0),
    ],
    ids=["retarder cold 50 %", "retarder cold 60 %", "retarder warm 50 %", "retarder warm 60 %"],
)
def test_cooled_room_turns_the_drive_round(
    layers: list[Layer], humidity: float, grams: float
) -> None:
    # Computed apart from this program from the standard's formulas; grams for each m² and day.
    summer = Month(room=13.0, room_humidity=0.6, beyond=24.0, beyond_humidity=humidity)
    found = moisture.profile(layers, (0.13, 0.13), summer)
    assert summer.drive > 0.0
    assert sum(found.condensing) * 86_400 * 1000 == pytest.approx(grams, abs=0.05)


@pytest.mark.parametrize(
    ("perms", "expected"),
    [(0.06, 1), (0.1, 1), (0.105, 2), (0.8, 2), (1.0, 2), (1.05, 3), (10.0, 3), (10.5, 0)],
)
def test_irc_2021_r702_7_classes(perms: float, expected: int) -> None:
    # one US perm is 57.2 ng/(s m² Pa)
    assert moisture.retarder_class(perms * 57.2e-12) == expected
    sd = moisture.thickness_from_permeance(perms * 57.2e-12)
    assert sd == pytest.approx(3.4965 / perms, rel=1e-4)


def test_layers_of_more_than_a_quarter_are_split_and_no_others() -> None:
    layers = [Layer(0.25, 1.0), Layer(0.26, 2.0), Layer(4.0, 3.0), Layer(0.0, 4.0)]
    planes = moisture.profile(layers, (0.25, 0.04), Month(20.0, 0.5, 20.0, 0.5)).planes
    assert [sum(p.layer == n and p.inside_layer for p in planes) for n in range(4)] == [0, 1, 15, 0]
    edges = [(p.layer, p.resistance, p.depth) for p in planes if not p.inside_layer]
    expected = [(0, 0, 0), (1, 0.25, 1), (2, 0.51, 3), (3, 4.51, 6), (4, 4.51, 10)]
    assert edges == [pytest.approx(edge) for edge in expected]
    wool = [p for p in planes if p.layer == 2 and p.inside_layer]
    assert (wool[3].resistance, wool[3].depth) == pytest.approx((0.51 + 1.0, 3.0 + 0.75))
