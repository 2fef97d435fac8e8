"""Vapor: the hull against an independent iteration, conservation, symmetry, and verdicts."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spec.derive.formulas import air, moisture
from spec.derive.formulas.moisture import DAY, PERMEABILITY, Layer, Month
from spec.derive.formulas.range import NotCovered, OutOfRange

FILMS = (0.25, 0.04)
LAYERS = st.lists(
    st.tuples(st.floats(0.0, 3.0), st.floats(0.01, 50.0)).map(lambda of: Layer(*of)),
    min_size=1,
    max_size=5,
)
MONTHS = st.tuples(
    st.floats(8.0, 22.0), st.floats(0.3, 0.8), st.floats(-15.0, 32.0), st.floats(0.3, 0.95)
).map(lambda of: Month(*of))
BOARD, WOOL, RETARDER = Layer(0.05, 0.1), Layer(4.0, 0.14), Layer(0.0, 50.0)

# Monthly means of an invented northern town and of an invented warm river town.
NORTH = [-5, -5, -1, 5, 11, 15, 18, 17, 12, 6, 1, -3]
NORTH_HUMIDITY = [86, 84, 78, 70, 65, 68, 72, 76, 80, 84, 87, 88]
SOUTH = [11, 13, 16, 20, 24, 27, 28, 28, 26, 21, 16, 12]
SOUTH_HUMIDITY = [74, 72, 71, 72, 74, 76, 78, 79, 78, 74, 75, 76]


def months(room: float, humidity: float, outside: list[int], beyond: list[int]) -> list[Month]:
    return [Month(room, humidity, t, h / 100) for t, h in zip(outside, beyond, strict=True)]


@given(LAYERS, MONTHS)
def test_pressure_never_exceeds_saturation_and_vapor_is_conserved(
    layers: list[Layer], month: Month
) -> None:
    found = moisture.profile(layers, FILMS, month)
    for pressure, limit in zip(found.pressures, found.saturation, strict=True):
        assert pressure <= limit * (1 + 1e-9)
    slopes = [
        (pb - pa) / (b.depth - a.depth)
        for (a, pa), (b, pb) in pairwise(zip(found.planes, found.pressures, strict=True))
    ]
    gained = PERMEABILITY * (slopes[-1] - slopes[0])
    assert sum(found.condensing) == pytest.approx(gained, rel=1e-6, abs=1e-16)
    assert min(found.condensing) >= 0.0


@settings(deadline=None)
@given(LAYERS, MONTHS)
def test_pressures_are_the_lowest_of_all_chords_over_each_place(
    layers: list[Layer], month: Month
) -> None:
    # The convex envelope by brute force: no walk along a hull in it.
    found = moisture.profile(layers, FILMS, month)
    x = [plane.depth for plane in found.planes]
    limit = [found.pressures[0], *found.saturation[1:-1], found.pressures[-1]]
    for k in range(len(x)):
        chords = (
            limit[i] + (limit[j] - limit[i]) * (x[k] - x[i]) / (x[j] - x[i])
            for i in range(k + 1)
            for j in range(max(k, i + 1), len(x))
        )
        assert found.pressures[k] == pytest.approx(min([limit[k], *chords]), rel=1e-9, abs=1e-6)


@given(LAYERS, MONTHS)
def test_seen_from_the_other_side_it_is_the_same(layers: list[Layer], month: Month) -> None:
    one = moisture.profile(layers, FILMS, month)
    turned = Month(month.beyond, month.beyond_humidity, month.room, month.room_humidity)
    other = moisture.profile([*reversed(layers)], (FILMS[1], FILMS[0]), turned)
    assert sum(one.condensing) == pytest.approx(sum(other.condensing), rel=1e-6, abs=1e-15)
    assert turned.drive == pytest.approx(-month.drive)


@settings(deadline=None, max_examples=60)
@given(LAYERS, st.lists(MONTHS, min_size=2, max_size=12))
def test_a_year_ends_with_what_it_says(layers: list[Layer], year: list[Month]) -> None:
    found = moisture.year(layers, FILMS, year)
    assert min(found.water) >= 0.0
    assert max(found.water) == pytest.approx(found.peak)
    assert found.left <= found.peak
    if found.verdict == "dry":
        assert found.peak == 0.0
        assert all(not any(moisture.profile(layers, FILMS, m).condensing) for m in year)
    else:
        assert found.peak > 0.0
        assert found.peak_plane is not None
    if found.verdict in ("dries_out", "accumulates"):
        assert (found.left > 0.0) == (found.verdict == "accumulates")
        assert not found.reverses


def test_splitting_a_month_in_two_changes_nothing() -> None:
    layers = [BOARD, RETARDER, WOOL, BOARD]
    whole = [Month(13.0, 0.6, 24.0, 0.65), Month(13.0, 0.6, 16.0, 0.4)]
    halves = [Month(m.room, m.room_humidity, m.beyond, m.beyond_humidity, m.days / 2)
              for m in whole for _ in range(2)]  # fmt: skip
    one = moisture.year(layers, (0.13, 0.13), whole)
    two = moisture.year(layers, (0.13, 0.13), halves)
    assert two.water[1::2] == pytest.approx(one.water)
    assert two.verdict == one.verdict


def test_a_plane_that_dries_within_the_month_takes_no_more_than_it_held() -> None:
    layers = [BOARD, RETARDER, WOOL, BOARD]
    wet, dry = Month(13.0, 0.6, 24.0, 0.7, 30), Month(13.0, 0.6, 20.0, 0.2, 30)
    found = moisture.year(layers, (0.13, 0.13), [wet, dry])
    rate = sum(moisture.profile(layers, (0.13, 0.13), wet).condensing)
    assert found.water == pytest.approx((rate * 30 * DAY, 0.0))


def test_warm_climate_wants_the_retarder_toward_outdoors() -> None:
    year = months(12.8, 0.60, SOUTH, SOUTH_HUMIDITY)
    right = moisture.year([BOARD, WOOL, RETARDER, BOARD], FILMS, year)
    wrong = moisture.year([BOARD, RETARDER, WOOL, BOARD], FILMS, year)
    assert right.verdict == "dry"
    assert wrong.verdict != "dry"
    assert wrong.peak_plane is not None
    assert wrong.peak_plane.layer in (1, 2, 3)


def test_a_wall_whose_drive_turns_round_and_that_condenses_needs_more_than_this() -> None:
    year = months(12.0, 0.65, NORTH, NORTH_HUMIDITY)
    found = moisture.year([BOARD, WOOL, Layer(0.1, 10.0)], FILMS, year)
    assert found.reverses
    assert found.verdict == "hygrothermal_analysis_required"
    assert found.condensing_months


def test_steady_condensation_accumulates() -> None:
    always = [Month(13.0, 0.6, 26.0, 0.7)] * 12
    found = moisture.year([BOARD, RETARDER, WOOL, BOARD], (0.13, 0.13), always)
    assert found.verdict == "accumulates"
    assert found.left == found.peak == max(found.water)
    assert list(found.water) == sorted(found.water)


@pytest.mark.parametrize("temperature", [-10.0, -5.0, 0.0, 5.0, 12.0, 24.0, 35.0])
def test_saturation_of_this_chapter_is_close_to_ashrae(temperature: float) -> None:
    ours, theirs = moisture.saturation(temperature), air.saturation_pressure(temperature)
    assert ours == pytest.approx(theirs, rel=0.004)


@given(st.floats(0.01, 20.0))
def test_a_sheet_keeps_its_permeance(perms: float) -> None:
    sd = moisture.thickness_from_permeance(perms * moisture.PERM)
    assert moisture.permeance([Layer(0.0, sd)]) == pytest.approx(perms * moisture.PERM)
    two = moisture.permeance([Layer(0.0, sd), Layer(0.0, sd)])
    assert two == pytest.approx(perms * moisture.PERM / 2)


@pytest.mark.parametrize("sd", [0.0, -1.0, math.nan, math.inf])
def test_a_layer_without_vapor_thickness_is_refused(sd: float) -> None:
    with pytest.raises(NotCovered, match="vapor thickness"):
        moisture.profile([Layer(1.0, sd)], FILMS, Month(13.0, 0.6, 24.0, 0.6))


TWO_RETARDERS = [BOARD, WOOL, Layer(0.0, 8.0), WOOL, Layer(0.0, 20.0), BOARD]
FROST = Month(20.0, 0.6, -15.0, 0.8, 30.0)
SHORT_SPRING = Month(20.0, 0.45, 10.0, 0.6, 25.0)


def test_an_assembly_that_condenses_in_many_places_is_the_envelope_of_all_chords() -> None:
    # by brute force as above, on assemblies that are likely to be wet, drawn once and for all
    draw, corners = random.Random(13788), 0
    for _ in range(60):
        layers = [Layer(draw.uniform(0.0, 1.5), 10.0 ** draw.uniform(-2.0, 1.7)) for _ in range(5)]
        month = Month(22.0, draw.uniform(0.5, 0.8), draw.uniform(-15.0, 5.0), 0.9)
        found = moisture.profile(layers, FILMS, month)
        x = [plane.depth for plane in found.planes]
        limit = [found.pressures[0], *found.saturation[1:-1], found.pressures[-1]]
        for k in range(len(x)):
            chords = (
                limit[i] + (limit[j] - limit[i]) * (x[k] - x[i]) / (x[j] - x[i])
                for i in range(k + 1)
                for j in range(max(k, i + 1), len(x))
            )
            assert found.pressures[k] == pytest.approx(min([limit[k], *chords]), rel=1e-9)
        corners = max(corners, sum(rate > 0.0 for rate in found.condensing))
    assert corners >= 3


@pytest.mark.parametrize("parts", [2, 7, 60])
def test_many_short_months_are_the_long_one_when_planes_dry_one_after_the_other(
    parts: int,
) -> None:
    def cut(month: Month) -> list[Month]:
        days = month.days / parts
        return [
            Month(month.room, month.room_humidity, month.beyond, month.beyond_humidity, days)
        ] * parts

    seasons = [FROST, FROST, SHORT_SPRING, Month(20.0, 0.4, 22.0, 0.3, 20.0)]
    whole = moisture.year(TWO_RETARDERS, FILMS, seasons)
    split = moisture.year(TWO_RETARDERS, FILMS, [m for season in seasons for m in cut(season)])
    assert split.water[parts - 1 :: parts] == pytest.approx(whole.water, rel=1e-6, abs=1e-12)
    assert whole.water[1] == pytest.approx(2.0 * whole.water[0])
    assert 0.0 < whole.water[2] < whole.water[1]


def test_two_planes_dry_at_their_own_times_by_small_steps() -> None:
    # A tenth of a day at a time, each plane wet while it holds water: pressures solved apart from
    # the program by straight lines between the ends and the wet planes, after the frost.
    frost = moisture.profile(TWO_RETARDERS, FILMS, FROST)
    wet = [i for i, rate in enumerate(frost.condensing) if rate > 0.0]
    assert len(wet) == 2
    stock = {i: frost.condensing[i] * FROST.days * DAY for i in wet}
    spring = moisture.profile(TWO_RETARDERS, FILMS, SHORT_SPRING)
    depth = [plane.depth for plane in spring.planes]
    ends = {0: spring.pressures[0], len(depth) - 1: spring.pressures[-1]}
    for _ in range(int(SHORT_SPRING.days * 10)):
        at = {**ends, **{i: spring.saturation[i] for i, m in stock.items() if m > 0.0}}
        order = sorted(at)
        for before, i, after in zip(order, order[1:], order[2:], strict=False):
            gain = (at[before] - at[i]) / (depth[i] - depth[before])
            gain += (at[after] - at[i]) / (depth[after] - depth[i])
            stock[i] = max(0.0, stock[i] + PERMEABILITY * gain * DAY / 10.0)
    found = moisture.year(TWO_RETARDERS, FILMS, [FROST, SHORT_SPRING])
    assert found.water[1] == pytest.approx(sum(stock.values()), rel=0.01)
    heavier = max(wet, key=lambda i: frost.condensing[i])
    assert found.peak_plane == frost.planes[heavier]


def test_a_year_that_dries_out_is_the_same_from_whichever_month_it_is_told() -> None:
    # a light frost that its spring does not quite dry, then a hard one that the summer dries
    light = Month(20.0, 0.5, -8.0, 0.8, 30.0)
    brief = Month(20.0, 0.45, 10.0, 0.6, 2.0)
    summer = Month(20.0, 0.4, 19.0, 0.4, 300.0)
    seasons = [light, brief, FROST, summer]
    told = moisture.year(TWO_RETARDERS, FILMS, seasons)
    assert (told.verdict, told.left, told.start) == ("dries_out", 0.0, 0)
    assert 0.0 < told.water[1] < told.water[0] < told.water[2] == told.peak
    for k in range(1, 4):
        turned = moisture.year(TWO_RETARDERS, FILMS, [*seasons[k:], *seasons[:k]])
        assert (turned.verdict, turned.left) == ("dries_out", 0.0)
        assert turned.start == (4 - k) % 4
        assert turned.water == pytest.approx([*told.water[k:], *told.water[:k]])


@pytest.mark.parametrize(
    "seasons",
    [
        [FROST, FROST, Month(20.0, 0.4, 19.0, 0.4, 300.0)],
        [
            FROST, Month(20.0, 0.45, 10.0, 0.6, 2.0),
            Month(20.0, 0.5, -8.0, 0.8, 30.0), Month(20.0, 0.4, 19.0, 0.4, 300.0),
        ],
    ],
    ids=["two frosts in a row", "the hard frost before the light one"],
)  # fmt: skip
def test_a_winter_over_the_turn_of_the_year_is_one_winter(seasons: list[Month]) -> None:
    told = moisture.year(TWO_RETARDERS, FILMS, seasons)
    assert (told.verdict, told.start) == ("dries_out", 0)
    for k in range(1, len(seasons)):
        turned = moisture.year(TWO_RETARDERS, FILMS, [*seasons[k:], *seasons[:k]])
        assert (turned.verdict, turned.start) == ("dries_out", len(seasons) - k)
        assert turned.water == pytest.approx([*told.water[k:], *told.water[:k]])


def test_what_accumulates_is_reckoned_from_the_first_frost_of_a_winter() -> None:
    brief = Month(20.0, 0.45, 10.0, 0.6, 2.0)
    found = moisture.year(TWO_RETARDERS, FILMS, [FROST, brief, FROST])
    assert (found.verdict, found.start) == ("accumulates", 2)


def test_a_little_that_stays_accumulates() -> None:
    # 17.6 g/m² in a day (computed apart, see ISO 13788), and nothing to dry it
    day = Month(13.0, 0.6, 24.0, 0.6, 1.0)
    found = moisture.year([BOARD, RETARDER, WOOL, BOARD], (0.13, 0.13), [day])
    assert found.verdict == "accumulates"
    assert found.left == pytest.approx(0.0176, abs=0.00005)


def test_a_dry_year_starts_with_its_first_month_and_leaves_nothing() -> None:
    still, summer = Month(13.0, 0.6, 13.0, 0.6), Month(13.0, 0.6, 24.0, 0.5)
    found = moisture.year([BOARD, WOOL, RETARDER, BOARD], FILMS, [still, summer])
    assert (found.verdict, found.start, found.left, found.peak) == ("dry", 0, 0.0, 0.0)
    # vapor that stands still does not reverse; the least of it outward does
    assert not found.reverses
    barely = Month(13.0, 0.6, 13.0, 0.59997)
    assert moisture.year([BOARD], FILMS, [barely, summer]).reverses
    barely = Month(13.0, 0.6, 13.0, 0.60003)
    assert moisture.year([BOARD], FILMS, [barely, Month(13.0, 0.6, 0.0, 0.6)]).reverses


def test_a_month_is_the_twelfth_of_a_year_unless_said() -> None:
    assert Month(13.0, 0.6, 24.0, 0.6).days * 12.0 == pytest.approx(365.25)


def test_a_face_is_never_wetter_than_saturated() -> None:
    for month, end in ((Month(30.0, 1.0, 5.0, 0.5), 0), (Month(5.0, 0.5, 30.0, 1.0), -1)):
        found = moisture.profile([WOOL], FILMS, month)
        assert found.pressures[end] == pytest.approx(moisture.saturation(found.temperatures[end]))


@pytest.mark.parametrize("humidity", [-0.05, 1.05])
def test_humidity_is_from_none_to_all(humidity: float) -> None:
    for month in (Month(13.0, humidity, 24.0, 0.6), Month(13.0, 0.6, 24.0, humidity)):
        with pytest.raises(OutOfRange, match="relative humidity"):
            moisture.profile([WOOL], FILMS, month)
    moisture.profile([WOOL], FILMS, Month(13.0, 0.0, 24.0, 0.0))


@pytest.mark.parametrize("parts", [2, 5, 9, 13])
@pytest.mark.parametrize("way", [1, -1])
def test_a_layer_told_in_slices_is_the_same_wall(parts: int, way: int) -> None:
    # the wet plane and the last one get other numbers, and the water stays what it was, but for
    # two hundredths: slices are more places at which vapor is held against saturation
    layers = [Layer(0.05, 0.1), Layer(0.2, 0.3), Layer(2.0, 0.1), Layer(0.04, 2.0)][::way]
    year = months(20.0, 0.6, NORTH, NORTH_HUMIDITY)
    if way < 0:
        year = [Month(m.beyond, m.beyond_humidity, m.room, m.room_humidity) for m in year]
    whole = moisture.year(layers, FILMS, year)
    assert whole.peak > 0.0
    for number, layer in enumerate(layers):
        slices = [Layer(layer.resistance / parts, layer.vapor_thickness / parts)] * parts
        told = moisture.year([*layers[:number], *slices, *layers[number + 1 :]], FILMS, year)
        assert told.water == pytest.approx(whole.water, rel=0.02)


def test_between_two_saturated_airs_nothing_wets_and_nothing_dries() -> None:
    # one temperature and 100 % on both sides: vapor has nowhere to go, so what winter left stays
    wall, still = [BOARD, WOOL, RETARDER, BOARD], Month(10.0, 1.0, 10.0, 1.0)
    winter = Month(20.0, 0.6, -10.0, 0.8)
    found = moisture.year(wall, FILMS, [winter, still, still])
    assert found.water[0] > 0.0
    assert found.water == (found.water[0],) * 3
    assert found.verdict == "accumulates"
