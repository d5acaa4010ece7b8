"""Which plan line is filled, and from which load of its lot: asked where there is a choice."""

from __future__ import annotations

from packdesk.present.in_hand import lines_offered, loads_offered
from packdesk.present.plan_change import lines_apart
from packdesk.sentences import capital
from packdesk.session.commands import Command, FillPouches
from packdesk.session.figures import AgreedLine
from packdesk.session.state import SessionState
from packdesk.ui.pages.inputs import OptionInput
from packdesk.ui.pages.options import Option


def show_lines(choice: OptionInput, session: SessionState, line: int, *, busy: bool) -> None:
    """Offer the plan lines by their foods; `busy` with something else, nobody is asked."""
    offered = lines_offered(session)
    choice.setVisible(len(offered) > 1 and not busy)
    names = lines_apart(offered, session.units)
    choice.show_options(
        tuple(Option(str(each), capital(name)) for each, name in names.items()), str(line)
    )


def show_loads(
    choice: OptionInput, session: SessionState, line: AgreedLine, command: Command | None
) -> None:
    """Offer the loads of the lot that are open, where several are and `command` fills from them."""
    filling = command if isinstance(command, FillPouches) else None
    offered = loads_offered(session, line) if filling is not None else ()
    choice.setVisible(bool(offered))
    if filling is None or not offered:
        return
    picked = ",".join(filling.loads)
    keys = [",".join(each) for each in offered]
    if picked not in keys:
        keys.append(picked)
    choice.show_options(tuple(Option(key, key.replace(",", ", then ")) for key in keys), picked)
