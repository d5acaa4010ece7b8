"""Three loads, a freezer that cannot keep up, four readings and a night of sleep.

The due times are held against a calculation that shares no code with the program: finite volumes
of each pail, an energy balance of the freezer, its own hold, dose and dew point, its own weighing
of uncertain loads. It reads figures alone; those that no fact carries stand below.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cache

import msgspec
import numpy as np
import pytest
from numpy.typing import NDArray

from packdesk.session import commands as c
from packdesk.session.figures import KillFigures, Span
from packdesk.session.terms import Probe
from tests.script import PAIL, Script, tell

Floats = NDArray[np.float64]

LARVA = KillFigures(
    name="diapausing larva",
    temps_c=(-20.0, -15.0, -10.0),
    kill_hours=(24.0, 72.0, 528.0),
    grade="published",
    source="collins_conyers_cardwell",
)
BEETLE = KillFigures(
    name="beetle that stands deep cold better (invented)",
    temps_c=(-20.0, -15.0, -10.0),
    kill_hours=(30.0, 60.0, 120.0),
    grade="published",
    source="invented for this test",
)
ADULT = KillFigures(
    name="adult that dies first (invented)",
    temps_c=(-20.0, -15.0, -10.0),
    kill_hours=(2.0, 8.0, 40.0),
    grade="published",
    source="invented for this test",
)
STAGES = (ADULT, LARVA, BEETLE)
"""Which of the last two takes longest depends on how cold a load becomes."""

FIGURES = msgspec.structs.replace(
    PAIL,
    fill_height_mm=300.0,
    spare_power_w=40.0,
    frozen_food_kg=10.0,
    life_stages=STAGES,
)
REST_C, SPARE_W = FIGURES.freezer_temp_c, 40.0

LEAK_W_K = 1.5
EXCHANGE_W_K = 0.2 * FIGURES.frozen_food_kg
FROZEN_FOOD_J_K = 2000.0 * FIGURES.frozen_food_kg
SPREADS = np.array([0.2, 0.12, 0.05, 0.3, 0.05])
"""Of conductivity, heat capacity, bulk density, surface coefficient and fill height, as ratios."""
PROBE_ERROR_K = {Probe.CORE: 0.7, Probe.WALL: 2.5}
TREAT_C, HOLD_H, DOSE_COUNTS_BELOW_C = -15.0, 72.0, -12.0

FROZEN_H = {"A": 0.0, "B": 1.0, "C": 4.0}
FREEZER_READ = (6.0, -9.5)
CORE_READ_A = (22.0, -9.0, Probe.CORE)
WALL_READ_B = (26.0, -14.0, Probe.WALL)
SLEEP_H = (30.0, 38.0)
OUT_H, OUT_ROOM_C = 120.0, 21.0
ROOM_READ = (122.0, 22.0, 0.55)

END_H = 200.0
STEP_S = 240.0
HOLD_WITHIN_H, DOSE_WITHIN_H, LID_WITHIN_H = 8.0 / 60.0, 20.0 / 60.0, 10.0 / 60.0
"""How far the two may lie apart; the bands themselves are hours wide.

Both take the median of the same draws, so that before and after readings what remains is the grid
of ten cells, steps of four minutes and the program's air in steps of a quarter of a kelvin. The
program counts each half hour of a dose at the rate of its warmer end, never too early: a quarter
of an hour more.
"""


# The independent calculation ----------------------------------------------------------------------


class Pails:
    """Cylinders of bulk food as finite volumes, many at once; every face loses heat alike."""

    cells = 10

    def __init__(self, factors: Floats) -> None:
        conductivity, heat, density, self._film, height = factors.T
        radius = FIGURES.radius_mm / 1000.0
        self._k = FIGURES.conductivity_w_m_k * conductivity[:, None]
        capacity = FIGURES.heat_capacity_j_kg_k * heat * FIGURES.bulk_density_kg_m3 * density
        edge = np.linspace(0.0, radius, self.cells + 1)
        self._ring = np.pi * (edge[1:] ** 2 - edge[:-1] ** 2)
        self._wide = radius / self.cells
        self._high = (FIGURES.fill_height_mm / 2000.0 * height / self.cells)[:, None]
        self._store = capacity[:, None, None] * self._ring[:, None] * self._high[:, :, None]
        self._side = 2.0 * np.pi * edge[1:] * self._high
        self._radial = (self._k * self._side[:, :-1] / self._wide)[:, :, None]
        self._axial = (self._k * self._ring / self._high)[:, :, None]
        self.temp = np.full((len(factors), self.cells, self.cells), FIGURES.start_temp_c)
        self.move_into(FIGURES.freezer_coefficient_w_m2_k)

    def move_into(self, coefficient_w_m2_k: float) -> None:
        """Let the air outside carry heat off this well."""
        film = (coefficient_w_m2_k * self._film)[:, None]
        inner = 2.0 * self._k / self._wide
        self._wall = self._side[:, -1:] / (1.0 / film + 1.0 / inner)
        self._ends = self._ring / (1.0 / film + self._high / 2.0 / self._k)
        self._surface_share = (inner / (inner + film))[:, 0]

    def heat_w(self, air_c: float) -> float:
        """What all of them give off to air of this temperature."""
        wall = (self._wall * (self.temp[:, -1] - air_c)).sum()
        return float(2.0 * (wall + (self._ends * (self.temp[:, :, -1] - air_c)).sum()))

    def less_w_k(self) -> float:
        """How much less they give off for each kelvin the air is warmer."""
        return float(2.0 * (self._wall.sum() * self.cells + self._ends.sum()))

    def step(self, air_c: float) -> None:
        """Let one time step go by."""
        flow = np.zeros_like(self.temp)
        inward = self._radial * (self.temp[:, 1:] - self.temp[:, :-1])
        flow[:, :-1] += inward
        flow[:, 1:] -= inward
        down = self._axial * (self.temp[:, :, 1:] - self.temp[:, :, :-1])
        flow[:, :, :-1] += down
        flow[:, :, 1:] -= down
        flow[:, -1] -= self._wall * (self.temp[:, -1] - air_c)
        flow[:, :, -1] -= self._ends * (self.temp[:, :, -1] - air_c)
        self.temp = self.temp + STEP_S * flow / self._store

    def core_c(self) -> Floats:
        """The very middle, by a parabola through the innermost cells each way."""
        down = (9.0 * self.temp[:, :2, 0] - self.temp[:, :2, 1]) / 8.0
        return np.asarray((9.0 * down[:, 0] - down[:, 1]) / 8.0)

    def wall_c(self, air_c: float) -> Floats:
        """The food at the wall, half way up."""
        return np.asarray(air_c + (self.temp[:, -1, 0] - air_c) * self._surface_share)

    def coldest_c(self) -> Floats:
        """The coldest food, wherever it lies."""
        return np.minimum(self.temp.min(axis=(1, 2)), self.core_c())


def draws(members: int = 256) -> Floats:
    """Points of the additive recurrence of the generalised golden ratio, as ratios."""
    golden = np.roots([1.0, 0.0, 0.0, 0.0, 0.0, -1.0, -1.0])
    ratio = float(golden.real.max())
    steps = ratio ** -np.arange(1.0, 6.0)
    points = (0.5 + np.arange(1.0, members + 1.0)[:, None] * steps) % 1.0
    return np.asarray((1.0 + SPREADS) ** (2.0 * points - 1.0))


@cache
def freezer_air(*, read: bool) -> Floats:
    """The freezer's air step by step: at rest while its power suffices, warmer while it does not.

    A reading taken while it labours says how much of the warming is real, from then on.
    """
    loads: list[Pails] = []
    frozen_c, warming = REST_C, []
    for step in range(int(END_H * 3600.0 / STEP_S)):
        hour = step * STEP_S / 3600.0
        loads += [Pails(np.ones((1, 5))) for at in FROZEN_H.values() if abs(at - hour) < 1e-6]
        given_w = sum(load.heat_w(REST_C) for load in loads) + EXCHANGE_W_K * (frozen_c - REST_C)
        less_w_k = sum(load.less_w_k() for load in loads) + EXCHANGE_W_K + LEAK_W_K
        air_c = REST_C + max(0.0, (given_w - SPARE_W) / less_w_k)
        for load in loads:
            load.step(air_c)
        frozen_c += STEP_S * EXCHANGE_W_K * (air_c - frozen_c) / FROZEN_FOOD_J_K
        warming.append(air_c - REST_C)
    warmer_k = np.array(warming)
    if read:
        hour, temp_c = FREEZER_READ
        at = int(hour * 3600.0 / STEP_S)
        warmer_k[at:] *= (temp_c - REST_C) / warmer_k[at - 1]
    return REST_C + warmer_k


@dataclass
class Answer:
    """Medians, in hours from the first loading; the lid of a load taken out."""

    hold_done: float
    dose_done: float
    dose_stage: str
    lid_off: float


def answer(load: str, air: Floats, read: tuple[float, float, Probe] | None = None) -> Answer:
    """When the middle of 256 uncertain loads is done, those near the reading counting more."""
    pails = Pails(draws())
    first, out = int(FROZEN_H[load] * 3600.0 / STEP_S), int(OUT_H * 3600.0 / STEP_S)
    cores, walls, coldest = [pails.core_c()], [pails.wall_c(REST_C)], [pails.coldest_c()]
    for step in range(first, len(air) if load == "A" else out):
        if step == out:
            pails.move_into(FIGURES.room_coefficient_w_m2_k)
        room_c = OUT_ROOM_C if step * STEP_S < ROOM_READ[0] * 3600.0 else ROOM_READ[1]
        around_c = room_c if step >= out else float(air[step])
        pails.step(around_c)
        cores.append(pails.core_c())
        walls.append(pails.wall_c(around_c))
        coldest.append(pails.coldest_c())
    core, wall = np.array(cores).T, np.array(walls).T
    at = (first + np.arange(core.shape[1])) * STEP_S / 3600.0
    weights = np.ones(len(core))
    if read is not None:
        hour, temp_c, probe = read
        seen = (core if probe is Probe.CORE else wall)[:, np.searchsorted(at, hour - 1e-6)]
        weights = np.exp(-np.square((seen - temp_c) / PROBE_ERROR_K[probe]) / 2.0)
    in_freezer = at <= OUT_H
    held = spell(core[:, in_freezer] <= TREAT_C, np.ones_like(core[:, in_freezer]))
    doses = {
        stage.name: np.minimum(*(dose_of(stage, each[:, in_freezer]) for each in (core, wall)))
        for stage in STAGES
    }
    done = {name: median(first_past(at, dose, 1.0), weights) for name, dose in doses.items()}
    worst = max(done, key=lambda name: done[name])
    lid_off = np.nan
    if load == "A":
        warm = (dew_point_c(*ROOM_READ[1:]) + 2.0 <= np.array(coldest).T) & ~in_freezer
        lid_off = median(at[warm.argmax(axis=1)], weights)
    return Answer(
        median(first_past(at, held, HOLD_H), weights),
        done[worst],
        worst,
        lid_off,
    )


def dose_of(stage: KillFigures, temp_c: Floats) -> Floats:
    """The kill of an unbroken spell, as a share of all of it."""
    kill_h = np.exp(np.interp(temp_c, stage.temps_c, np.log(stage.kill_hours)))
    return spell(temp_c <= DOSE_COUNTS_BELOW_C, 1.0 / kill_h)


def spell(counts: NDArray[np.bool_], per_h: Floats) -> Floats:
    """What an unbroken spell has gathered by each step."""
    found, now = np.zeros_like(per_h), np.zeros(len(per_h))
    for place in range(1, per_h.shape[1]):
        now = np.where(counts[:, place], now + per_h[:, place] * STEP_S / 3600.0, 0.0)
        found[:, place] = now
    return found


def first_past(at: Floats, gathered: Floats, wanted: float) -> Floats:
    """When each has gathered what is wanted, never where it has not."""
    reached = gathered >= wanted - 1e-9
    return np.where(reached.any(axis=1), at[reached.argmax(axis=1)], np.inf)


def median(values: Floats, weights: Floats) -> float:
    """The value that half the weight lies below."""
    order = np.argsort(values)
    share = np.cumsum(weights[order]) / weights.sum()
    return float(values[order][np.searchsorted(share, 0.5)])


def dew_point_c(temp_c: float, relative_humidity: float) -> float:
    """The dew point by the Magnus form (constants of Alduchov and Eskridge 1996)."""
    gamma = np.log(relative_humidity) + 17.625 * temp_c / (243.04 + temp_c)
    return float(243.04 * gamma / (17.625 - gamma))


# The session --------------------------------------------------------------------------------------


@dataclass
class Told:
    """What the program said of each load, in hours from the first loading."""

    hold: dict[str, float]
    dose: dict[str, float]
    stage: dict[str, str]


@dataclass
class Rehearsed:
    """The due times when all three are in, after the night, and when the lid may come off."""

    unread: Told
    after_the_night: Told
    lid_off: float
    warmest_air_c: float


@pytest.fixture(scope="module")
def rehearsed() -> Rehearsed:
    """An evening, a night and the days after it."""
    script = tell("receive wheat 60 kg; agree wheat 8 x 1 kg")
    begun = script.clock.reading().utc

    def until(hour: float) -> None:
        gone_h = (script.clock.reading().utc - begun).total_seconds() / 3600.0
        script.clock.go(hours=hour - gone_h)

    for hour in FROZEN_H.values():
        until(hour)
        lot = script.lot_of("wheat")
        script.desk.submit(c.FreezeLoad(lot, "pail-19l", "pail", 14600.0, FIGURES, confirmed=True))
    unread = told(script, begun)
    freezer = script.session.freezers[FIGURES.freezer]
    until(FREEZER_READ[0])
    script.do(f"freezer {FREEZER_READ[1]} C")
    until(CORE_READ_A[0])
    script.do(f"core A {CORE_READ_A[1]} C")
    until(WALL_READ_B[0])
    script.do(f"wall B {WALL_READ_B[1]} C")
    until(SLEEP_H[0])
    script.clock.sleep(hours=SLEEP_H[1] - SLEEP_H[0])
    script.desk.ring_due()
    after = told(script, begun)
    until(OUT_H)
    script.do(f"out A {OUT_ROOM_C} C")
    until(ROOM_READ[0])
    script.do(f"room {ROOM_READ[1]} C {ROOM_READ[2] * 100.0} %")
    thaw = script.session.loads["A"].thaw
    assert thaw is not None
    return Rehearsed(unread, after, likely_h(thaw.lid_off, begun), freezer.warmest_air_c)


def told(script: Script, begun: datetime) -> Told:
    """The due times of every load as they stand."""
    loads = script.session.loads.values()
    return Told(
        {each.load: likely_h(each.forecast.hold_done, begun) for each in loads},
        {each.load: likely_h(each.forecast.dose_done, begun) for each in loads},
        {each.load: each.forecast.dose_stage for each in loads},
    )


def likely_h(span: Span | None, begun: datetime) -> float:
    """The middle of a due time."""
    assert span is not None
    return (span.likely - begun).total_seconds() / 3600.0


def test_the_freezer_labours_as_an_energy_balance_says(rehearsed: Rehearsed) -> None:
    """Three pails at once are far more than it can draw out, and its air warms that much."""
    warmest_c = float(freezer_air(read=False).max())

    assert warmest_c > REST_C + 5.0
    # The program balances half hours, this minutes: the peak after a loading is blunter.
    assert rehearsed.warmest_air_c == pytest.approx(warmest_c, abs=1.5)


def test_due_times_before_any_reading(rehearsed: Rehearsed) -> None:
    """Hold and dose of all three are complete when finite volumes say, within minutes."""
    air = freezer_air(read=False)
    for load in FROZEN_H:
        agrees(rehearsed.unread, load, answer(load, air))


def test_due_times_after_the_readings_and_the_night(rehearsed: Rehearsed) -> None:
    """So they are after freezer, core and wall were read, and the lid after the room was."""
    air = freezer_air(read=True)
    expected = answer("A", air, CORE_READ_A)

    agrees(rehearsed.after_the_night, "A", expected)
    agrees(rehearsed.after_the_night, "B", answer("B", air, WALL_READ_B))
    agrees(rehearsed.after_the_night, "C", answer("C", air))
    assert rehearsed.lid_off == pytest.approx(expected.lid_off, abs=LID_WITHIN_H)


def test_the_readings_moved_the_due_times(rehearsed: Rehearsed) -> None:
    """A warmer freezer puts the last load off; a reading in a load moves it far enough to tell."""
    before, after = rehearsed.unread.hold, rehearsed.after_the_night.hold

    assert after["C"] > before["C"]
    for load in ("A", "B"):
        assert abs(after[load] - before[load]) > 2.0 * HOLD_WITHIN_H


def agrees(said: Told, load: str, expected: Answer) -> None:
    """What the program said of a load is what was worked out apart from it."""
    assert said.hold[load] == pytest.approx(expected.hold_done, abs=HOLD_WITHIN_H)
    assert said.dose[load] == pytest.approx(expected.dose_done, abs=DOSE_WITHIN_H)
    assert said.stage[load] == expected.dose_stage
