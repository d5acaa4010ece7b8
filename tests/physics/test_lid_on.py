"""How long the lid stays on after take-out."""

from __future__ import annotations

import math

import numpy as np
import psychrolib
import pytest

from packdesk.physics.heat import Cylinder, Filling, Slab, Spreads, Surroundings, ensemble
from packdesk.physics.lid_on import LidRule, lid_limit, lid_on_h
from packdesk.physics.ranges import OutOfRange

RICE = Filling(0.11, 1700.0, 800.0)
PAIL = Cylinder(0.14, 0.34)
CERTAIN = Spreads(0.0, 0.0, 0.0, 0.0, 0.0)


def test_limit_is_two_kelvin_above_the_dew_point_where_humidity_was_read() -> None:
    """Food must be 2 K above the dew point that the reference library gives for the room."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    dew_point_c = psychrolib.GetTDewPointFromRelHum(21.0, 0.45)

    limit = lid_limit(21.0, dew_point_c)

    assert limit.rule is LidRule.DEW_POINT
    assert limit.open_above_c == pytest.approx(dew_point_c + 2.0)
    assert limit.dry


def test_limit_is_within_three_kelvin_of_the_room_where_it_was_not() -> None:
    """Without a humidity reading the room itself is the guide, and dryness is not promised."""
    limit = lid_limit(21.0)

    assert (limit.rule, limit.open_above_c, limit.dry) == (LidRule.ROOM, 18.0, False)


def test_three_kelvin_below_the_room_is_dry_up_to_eighty_three_per_cent() -> None:
    """Food 3 K below the room is above the dew point at 82 % humidity and below it at 85 %."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    open_above_c = lid_limit(21.0).open_above_c

    assert psychrolib.GetTDewPointFromRelHum(21.0, 0.82) < open_above_c
    assert psychrolib.GetTDewPointFromRelHum(21.0, 0.85) > open_above_c


def test_damp_rooms_are_told_apart_by_whether_food_can_ever_be_dry() -> None:
    """At a dew point 1 K below the room food gets dry at last; 0.3 K below, it never does."""
    damp, soaked = lid_limit(21.0, 20.0), lid_limit(21.0, 20.7)

    assert (damp.rule, damp.open_above_c, damp.dry) == (LidRule.DAMP_ROOM, 20.5, True)
    assert (soaked.rule, soaked.dry) == (LidRule.DAMP_ROOM, False)
    with pytest.raises(OutOfRange, match="dew_point_c is 22 °C"):
        lid_limit(21.0, 22.0)


def test_lid_stays_on_as_long_as_the_published_thaw_of_a_pail() -> None:
    """White rice in a five-gallon pail is 3 K below the room after 35 hours."""
    # The science's table of thaw times, one-term series worked out outside this program: 35 h to
    # 18 °C from −18 °C throughout, room 21 °C, 9 W/m²K, D 0.28 m, H 0.34 m.
    members = ensemble(PAIL, RICE, members=1, spreads=CERTAIN)
    history = [Surroundings(0.0, 21.0, 9.0)]

    found = lid_on_h(members, -18.0, history, 0.0, lid_limit(21.0))

    assert found.likely_h == pytest.approx(35.0, abs=0.7)
    assert found.early_h == found.likely_h == found.late_h


def test_lid_stays_on_longer_in_a_damper_room() -> None:
    """The higher the dew point, the longer the wait, early, likely and late alike."""
    members = ensemble(PAIL, RICE)
    history = [Surroundings(0.0, -18.0, 8.0), Surroundings(72.0, 21.0, 9.0)]

    dry, damp = (
        lid_on_h(members, 21.0, history, 72.0, lid_limit(21.0, dew_point_c))
        for dew_point_c in (4.0, 14.0)
    )

    assert dry.early_h < dry.likely_h < dry.late_h
    assert dry.early_h < damp.early_h
    assert dry.likely_h < damp.likely_h
    assert dry.late_h < damp.late_h


def test_lid_of_a_load_that_never_gets_there_stays_on() -> None:
    """A room colder than its limit within the hours looked at gives no hour at all."""
    members = ensemble(PAIL, RICE)
    history = [Surroundings(0.0, -18.0, 8.0), Surroundings(72.0, 21.0, 9.0)]

    found = lid_on_h(members, 21.0, history, 72.0, lid_limit(21.0, 18.0), look_ahead_h=10.0)

    assert found.likely_h == math.inf


def test_coldest_food_of_a_load_taken_out_early_is_not_its_core() -> None:
    """A bag taken out after two hours is coldest at its faces, and the coldest place moves in."""
    # Exact for a slab: seen at 400 places across, by the same surface conditions in a numerical
    # solution of its own (explicit finite differences, a hundred cells to the half thickness).
    filling, half, cells = RICE, 0.05, 100
    width = half / cells
    diffusivity = 0.11 / (1700.0 * 800.0)
    step_s = 0.4 * width**2 / diffusivity
    field = np.full(cells, 21.0)
    coldest = {}
    seconds = 0.0
    wanted = [2.0, 2.25, 2.5, 3.0, 4.0, 5.0]
    for until_h in wanted:
        while seconds < until_h * 3600.0:
            air_c, film = (-18.0, 8.0) if seconds < 2.0 * 3600.0 else (21.0, 9.0)
            flow = 0.11 * np.diff(field, prepend=field[0]) / width
            outward = (air_c - field[-1]) / (1.0 / film + width / 2.0 / 0.11)
            gain = np.append(flow[1:], outward) - flow
            field = field + gain * step_s / (1700.0 * 800.0 * width)
            seconds += step_s
        coldest[until_h] = min(field.min(), field[-1] + (field[-1] - field[-2]) / 2.0)
    members = ensemble(Slab(2.0 * half), filling, members=1, spreads=CERTAIN)
    history = [Surroundings(0.0, -18.0, 8.0), Surroundings(2.0, 21.0, 9.0)]

    found = members.coldest_c(21.0, history, np.array(wanted))[0]
    core = members.temperatures_c(21.0, history, np.array(wanted)).core_c[0]

    assert found == pytest.approx(list(coldest.values()), abs=0.4)
    assert np.all(found[:2] < core[:2] - 3.0)
    assert found[-1] == pytest.approx(core[-1])


@pytest.mark.parametrize(
    ("radius_m", "height_m", "out_h"), [(0.14, 0.34, 3.0), (0.14, 0.34, 12.0), (0.11, 0.41, 6.0)]
)
def test_coldest_food_of_a_pail_taken_out_early_is_found_below_its_rim(
    radius_m: float, height_m: float, out_h: float
) -> None:
    """Wherever in a pail the coldest food is, it is never told more than 0.8 K too warm."""
    # A numerical solution of its own: explicit finite volumes in radius and height, of which the
    # field's coldest cell is taken.
    wide, high = round(radius_m / 0.0025), round(height_m / 2.0 / 0.0025)
    faces = np.linspace(0.0, radius_m, wide + 1)
    step_r, step_z = radius_m / wide, height_m / 2.0 / high
    volumes = np.diff(faces**2)[:, None] / 2.0
    field, seconds, coldest = np.full((wide, high), 21.0), 0.0, []
    step_s = 0.2 * step_r**2 / (0.11 / (1700.0 * 800.0))
    after_h = [0.1, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0]
    for until_h in [out_h + each for each in after_h]:
        while seconds < until_h * 3600.0:
            air_c, film = (-18.0, 8.0) if seconds < out_h * 3600.0 else (21.0, 9.0)
            around, upward = np.zeros((wide + 1, high)), np.zeros((wide, high + 1))
            around[1:-1] = 0.11 * np.diff(field, axis=0) / step_r
            around[-1] = (air_c - field[-1]) / (1.0 / film + step_r / 2.0 / 0.11)
            upward[:, 1:-1] = 0.11 * np.diff(field, axis=1) / step_z
            upward[:, -1] = (air_c - field[:, -1]) / (1.0 / film + step_z / 2.0 / 0.11)
            gain = np.diff(around * faces[:, None], axis=0) / volumes + np.diff(upward) / step_z
            field = field + gain * step_s / (1700.0 * 800.0)
            seconds += step_s
        coldest.append(field.min())
    members = ensemble(Cylinder(radius_m, height_m), RICE, members=1, spreads=CERTAIN)
    history = [Surroundings(0.0, -18.0, 8.0), Surroundings(out_h, 21.0, 9.0)]

    found = members.coldest_c(21.0, history, out_h + np.array(after_h))[0]

    assert np.all(found < np.array(coldest) + 0.8)
    assert found == pytest.approx(coldest, abs=1.0)
