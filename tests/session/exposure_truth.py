"""What becomes of absorbers, worked out without the program: the published kinetics integrated."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from scipy.integrate import solve_ivp

from tests.script import Script

# Written out anew from the published kinetics: half-life 1.0 h at 25 °C and 50 kJ/mol (Tewari et
# al. 2002, abstract), a mean rate of 0.31 1/h (doi 10.1111/ijfs.12100, abstract); air at 300 m has
# 97,773 Pa (ICAO standard atmosphere, table); dry air is 20.95 % oxygen.
ROOM_K = 294.15
COOLER = math.exp(-50_000.0 / 8.314462618 * (1.0 / ROOM_K - 1.0 / 298.15))
KAPPA = np.array([0.69, 0.31]) * COOLER
SHARE = 97_773.0 / 101_325.0
FULL_CC_PER_CC = 0.2095 * 298.15 / ROOM_K
"""Oxygen in a cc of sea-level air as warm as the room, in cc at 25 °C."""
POUCH_AIR_CC, JAR_AIR_CC, ZIP_CC_PER_H = 560.0, 450.0, 14.0
FRESH_CC, IN_PACKET = 200.0, 4

POUCHES = (1, 2, 3)


def oxygen_of(air_cc: float) -> np.ndarray:
    """The oxygen of so much of the room's air, twice over: for the fast end and the likely one."""
    return np.full(2, SHARE * FULL_CC_PER_CC * air_cc)


@dataclass
class Lot:
    """Absorbers that lie together: what one has left, how many, and the oxygen of their jar."""

    single: np.ndarray
    count: int
    jar: np.ndarray | None = None

    def wait(self, hours: float) -> None:
        """Let them lie for so long."""
        together = self.single * self.count
        if self.count:
            together, self.jar = _run(together, self.jar, JAR_AIR_CC, 0.0, hours)
            self.single = together / self.count


@dataclass
class Inside:
    """The absorbers of one pouch: what they have left, and the oxygen that is shut in with them."""

    left: np.ndarray = field(default_factory=lambda: np.zeros(2))
    oxygen: np.ndarray | None = None
    leak: float = 0.0
    used: bool = False

    def wait(self, hours: float) -> None:
        """Let the pouch stand for so long."""
        if self.used:
            self.left, self.oxygen = _run(self.left, self.oxygen, POUCH_AIR_CC, self.leak, hours)

    def shut(self, leak: float) -> None:
        """Shut the room's air in, or tighten what shuts it in."""
        if self.oxygen is None:
            self.oxygen = oxygen_of(POUCH_AIR_CC)
        self.leak = leak

    @property
    def worth(self) -> np.ndarray:
        """What is left, and what was taken of the pouch's own oxygen."""
        if self.oxygen is None:
            return self.left
        return self.left + np.maximum(oxygen_of(POUCH_AIR_CC) - self.oxygen, 0.0)


def _run(
    capacity: np.ndarray, oxygen: np.ndarray | None, air_cc: float, leak: float, hours: float
) -> tuple[np.ndarray, np.ndarray | None]:
    """Integrate low and likely together: C' = -κ C p/p0, O' = C' + leak/air (outside - O)."""
    full = FULL_CC_PER_CC * air_cc

    def slope(_: float, y: np.ndarray) -> np.ndarray:
        taken = KAPPA * y[:2] * (SHARE if oxygen is None else y[2:] / full)
        came = np.zeros(2) if oxygen is None else leak / air_cc * (SHARE * full - y[2:]) - taken
        return np.concatenate((-taken, came))

    begin = np.concatenate((capacity, np.zeros(2) if oxygen is None else oxygen))
    found = solve_ivp(slope, (0.0, hours), begin, method="LSODA", rtol=1e-8, atol=1e-8)
    end = found.y[:, -1]
    return end[:2], None if oxygen is None else end[2:]


class Truth:
    """What becomes of packets, jars and pouches, integrated step by step by scipy."""

    def __init__(self) -> None:
        self.rounds: dict[int, Lot] = {}
        self.jars: dict[str, Lot] = {}
        self.pouches = {number: Inside() for number in POUCHES}

    def wait(self, hours: float) -> None:
        """Let everything lie for so long."""
        for each in (*self.rounds.values(), *self.jars.values(), *self.pouches.values()):
            each.wait(hours)

    def follow(self, step: str, told: Script) -> None:
        """What a step that was taken does to them; the record says out of which round it came."""
        verb, _, rest = step.partition(" ")
        match verb:
            case "packet":
                self.rounds[len(self.rounds) + 1] = Lot(np.full(2, FRESH_CC), IN_PACKET)
            case "jar":
                lot = self.rounds[int(rest.split()[-1])]
                jarred = Lot(lot.single, lot.count, oxygen_of(JAR_AIR_CC))
                self.jars[f"R{len(self.jars) + 1}"], lot.count = jarred, 0
            case "take":
                lot = self.jars[rest]
                self.rounds[len(self.rounds) + 1] = Lot(lot.single, lot.count)
                lot.count = 0
            case "place":
                number = int(rest.split(" ")[1].rstrip(","))
                lot = self.rounds[told.session.pouches[number].placed[-1].round]
                pouch = self.pouches[number]
                pouch.left, pouch.used, lot.count = pouch.left + lot.single, True, lot.count - 1
                if not step.endswith("open"):
                    pouch.shut(ZIP_CC_PER_H)
            case "shut" | "seal":
                self.pouches[int(rest)].shut(ZIP_CC_PER_H if verb == "shut" else 0.0)
            case "reopen":
                self.pouches[int(rest)].oxygen = None
