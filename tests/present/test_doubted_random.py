"""Packets and foods as they come: who presses what the counter offers is well supplied."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from packdesk.present.chosen import Chosen
from packdesk.present.work import work_card
from packdesk.session.commands import PlaceAbsorbers, SealPouches, ShutPouches, ShutRemainder
from packdesk.session.lacking import lacking
from packdesk.session.terms import Stage
from packdesk.session.verdicts import Enough, verdict
from tests.script import Script, tell

OFFERED = (PlaceAbsorbers, ShutRemainder, ShutPouches, SealPouches)
PACKET = st.tuples(st.integers(1, 25), st.sampled_from(["", " slack", " slack oxygen"]))


@st.composite
def counters(draw: st.DrawFn) -> str:
    """Pouches or liners of one food, sets of one or two ratings, one or two packets of each."""
    ratings = draw(st.sampled_from([(200,), (100, 100), (500, 300), (1000, 1000), (500, 300, 300)]))
    need_cc = round(sum(ratings) * draw(st.floats(0.3, 0.98)))
    kind = draw(st.sampled_from(["", "", "", ", liner", ", no zip"]))
    numbered = draw(st.sampled_from(["", ", numbered"]))
    count = draw(st.integers(1, 7))
    wanted = "+".join(map(str, ratings))
    packets = [
        f"packet {rating}x{size}{look}"
        for rating in draw(st.permutations(sorted(set(ratings))))
        for size, look in draw(st.lists(PACKET, min_size=1, max_size=2))
    ]
    return (
        f"receive wheat 60 kg; bypass wheat: treated; agree wheat {count} x 1 kg, with {wanted}, "
        f"need {need_cc} cc{kind}{numbered}; fill {count}; ready; {'; +2 min; '.join(packets)}"
    )


def pressed_through(told: Script) -> None:
    """Press what is offered until something else is asked for; nothing offered is refused."""
    for _ in range(40):
        command = work_card(Stage.FILLING, told.desk.state, Chosen(), told.desk.now()).main.command
        if not isinstance(command, OFFERED):
            return
        told.desk.submit(command)
        told.do("+10 s")
    raise AssertionError("the same is offered again and again")


@settings(max_examples=60, deadline=None)
@given(counters())
def test_whoever_presses_what_is_offered_is_well_supplied(steps: str) -> None:
    """Of doubted packets, within their time, a pouch that has its set has enough of it."""
    told = tell(steps)
    pressed_through(told)

    session, at = told.session, told.desk.now().utc
    if any(round_.due <= at for round_ in session.rounds.values()):
        return
    line = session.plan.lines[0]
    for pouch in session.working_pouches():
        if pouch.placed and not lacking(line, pouch):
            found = verdict(line, pouch, session.plan, at)
            assert found is not None
            assert found.verdict is Enough.ENOUGH, (pouch.number, found, steps)
