"""Kills programs that record, at random moments, and looks for what they had called saved.

Each life opens the same book, records commands of one to three facts as fast as it can, and
announces the ids of each through a pipe once they are recorded. The parent kills it (SIGKILL),
opens the book and compares. Two deliberately broken recorders prove that a loss would be seen.

`python -m tests.record.kill_harness 300` runs 300 lives and prints what came of them.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from packdesk.instants import Reading, uuid7
from packdesk.record.book import Book
from packdesk.session.envelope import Draft
from tests.record.drafts import STATION, note

ROOT = Path(__file__).resolve().parents[2]
ABOUT_TO_OPEN = bytes(16)
LIFE_S = 0.06
"""A program is killed within this time after its first announcement."""
PAGES_UNTIL_FOLDED = 50
"""Far fewer than in use, so that many kills fall into the folding-in of the log."""


@dataclass
class Outcome:
    """What came of some lives of one recorder."""

    kills: int = 0
    acknowledged: int = 0
    lost: int = 0
    """Acknowledged, and not in the book."""
    unannounced: int = 0
    """In the book without having been announced: the kill fell between the two."""
    torn: int = 0
    """Commands of which only some facts are in the book."""
    damage: list[str] = field(default_factory=list)
    """Every fault that a check of the book found."""
    seconds: float = 0.0


# --------------------------------------------------------------------------------------------
# The child


def live(recorder: str, folder: Path, session: UUID) -> None:
    """Record until killed."""
    announce(ABOUT_TO_OPEN)
    record = RECORDERS[recorder](folder)
    while True:
        act = uuid7(datetime.now(UTC))
        record(list(command(act, session)))


def command(act: UUID, session: UUID) -> Iterator[Draft]:
    """The facts of one command; each says of how many it is one."""
    count = random.randint(1, 3)
    now = datetime.now(UTC)
    for _ in range(count):
        reading = Reading(now, 0, time.monotonic(), "harness")
        yield Draft(uuid7(now), act, session, now, 0.0, reading, "", note(f"{count} {'x' * 60}"))


def announce(identity: bytes) -> None:
    """Tell the parent that a fact is recorded, past every buffer of this program."""
    os.write(1, identity)


def open_book(folder: Path) -> Book:
    """The book of the harness, folding its log in often."""
    book = Book.open(book_path(folder), STATION)
    book._hold.connection().execute(f"PRAGMA wal_autocheckpoint={PAGES_UNTIL_FOLDED}")
    return book


def sound(folder: Path) -> Callable[[list[Draft]], None]:
    """The book as it is: announced once `append` returned."""
    book = open_book(folder)

    def record(drafts: list[Draft]) -> None:
        for entry in book.append(drafts):
            announce(entry.id.bytes)

    return record


def announcing_early(folder: Path) -> Callable[[list[Draft]], None]:
    """A broken recorder: announces what it is about to append."""
    book = open_book(folder)

    def record(drafts: list[Draft]) -> None:
        for draft in drafts:
            announce(draft.id.bytes)
        book.append(drafts)

    return record


def buffering(folder: Path) -> Callable[[list[Draft]], None]:
    """A broken recorder: writes lines into a buffer and announces them."""
    file = lines_path(folder).open("a", buffering=8192)

    def record(drafts: list[Draft]) -> None:
        for draft in drafts:
            file.write(f"{draft.id} {draft.act} {draft.fact.text}\n")
            announce(draft.id.bytes)

    return record


RECORDERS = {"sound": sound, "announcing_early": announcing_early, "buffering": buffering}


# --------------------------------------------------------------------------------------------
# The parent


def run(
    recorder: str,
    folder: Path,
    kills: int,
    dice: random.Random,
    *,
    while_opening: bool = False,
    until_a_loss: bool = False,
) -> Outcome:
    """Start and kill a recorder again and again on the same book, and compare each time.

    `while_opening`: killed from the moment at which it opens the book, rather than after it has
    recorded something. `until_a_loss`: no more kills than it takes to see one.
    """
    outcome = Outcome()
    started = time.perf_counter()
    everything: set[UUID] = set()
    while outcome.kills < kills and not (until_a_loss and outcome.lost):
        session = uuid7(datetime.now(UTC))
        acknowledged = one_life(recorder, folder, session, dice, while_opening)
        if recorder == "buffering":
            kept = kept_lines(folder)
            lines_path(folder).unlink()
        else:
            kept = kept_facts(folder, session, outcome)
            everything |= acknowledged & kept.keys()
        compare(outcome, acknowledged, kept)
    if everything:
        with open_book(folder) as book:
            streams = {head.session for head in book.sessions()}
            outcome.lost += len(everything - {entry.id for entry in book.entries(streams)})
    outcome.seconds = time.perf_counter() - started
    return outcome


def one_life(
    recorder: str, folder: Path, session: UUID, dice: random.Random, while_opening: bool
) -> set[UUID]:
    """Start a recorder, kill it, and answer what it announced."""
    program = [sys.executable, "-m", "tests.record.kill_harness", "live", recorder, folder, session]
    child = subprocess.Popen([str(part) for part in program], cwd=ROOT, stdout=subprocess.PIPE)
    assert child.stdout is not None
    heard = child.stdout.read(16 if while_opening else 32)
    time.sleep(dice.uniform(0, LIFE_S))
    child.kill()
    heard += child.stdout.read()
    child.stdout.close()
    child.wait()
    assert heard.startswith(ABOUT_TO_OPEN), "the child did not come to life"
    whole = len(heard) // 16
    return {UUID(bytes=heard[16 * at : 16 * at + 16]) for at in range(1, whole)}


def kept_facts(folder: Path, session: UUID, outcome: Outcome) -> dict[UUID, tuple[UUID, str]]:
    """What the book has of one life, after checking the whole of it."""
    with open_book(folder) as book:
        outcome.damage += book.verify().faults
        return {entry.id: (entry.act, entry.fact.text) for entry in book.entries({session})}


def kept_lines(folder: Path) -> dict[UUID, tuple[UUID, str]]:
    """What the file of lines has, without a last line that is torn."""
    text = lines_path(folder).read_text()
    parts = [line.split(" ", 2) for line in text[: text.rfind("\n") + 1].splitlines()]
    return {UUID(own): (UUID(act), said) for own, act, said in parts}


def compare(outcome: Outcome, acknowledged: set[UUID], kept: dict[UUID, tuple[UUID, str]]) -> None:
    """Count what one life announced against what is there."""
    outcome.kills += 1
    outcome.acknowledged += len(acknowledged)
    outcome.lost += len(acknowledged - kept.keys())
    outcome.unannounced += len(kept.keys() - acknowledged)
    there = Counter(act for act, _ in kept.values())
    said = {act: int(text.split()[0]) for act, text in kept.values()}
    outcome.torn += sum(there[act] != said[act] for act in there)


def book_path(folder: Path) -> Path:
    """The book of the harness."""
    return folder / "record.packdesk"


def lines_path(folder: Path) -> Path:
    """The file of the broken recorder that keeps no book."""
    return folder / "lines.txt"


def main(kills: int) -> None:
    """Run every recorder and print what came of it."""
    dice = random.Random(7)
    plan = (
        ("sound", kills, False, "the book"),
        ("sound", kills // 3, True, "the book, killed while it opens"),
        ("announcing_early", 40, False, "BROKEN: announces before it appends"),
        ("buffering", 40, False, "BROKEN: buffered lines"),
    )
    for recorder, count, while_opening, name in plan:
        with tempfile.TemporaryDirectory() as folder:
            outcome = run(recorder, Path(folder), count, dice, while_opening=while_opening)
        print(
            f"{name:38} kills {outcome.kills:4}  acknowledged {outcome.acknowledged:6}"
            f"  lost {outcome.lost:5}  unannounced {outcome.unannounced:4}  torn {outcome.torn:3}"
            f"  damage {len(outcome.damage)}  {outcome.seconds:.0f} s",
            flush=True,
        )


if __name__ == "__main__":
    if sys.argv[1] == "live":
        live(sys.argv[2], Path(sys.argv[3]), UUID(sys.argv[4]))
    else:
        main(int(sys.argv[1]))
