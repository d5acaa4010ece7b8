"""What a person asks: orders in the imperative, with what was typed and chosen, nothing computed.

Each is decided by `decide`, which answers facts or a refusal. When it happened is said beside
the command, not in it. The one door to them: a command is asked for here, whichever stage it
stands with.
"""

from packdesk.session.commands.after import (
    CheckSeals,
    CloseSession,
    LidPail,
    OpenPail,
    ReturnPouches,
    SetAside,
    StowPouches,
)
from packdesk.session.commands.any_time import (
    AddNote,
    NoteClockSet,
    RingAlarm,
    SilenceAlarm,
    TakeCount,
    UndoLast,
    VoidFact,
)
from packdesk.session.commands.before import (
    AgreePlan,
    LookAtLot,
    OpenSession,
    ReceiveLot,
    RevisePlan,
)
from packdesk.session.commands.cold import (
    BypassCold,
    ChooseColdRule,
    FreezeLoad,
    NoteCoreReading,
    NoteFreezerReading,
    NoteRoomReading,
    TakeLoadOut,
    UncoverLoad,
)
from packdesk.session.commands.command import Command
from packdesk.session.commands.filling import FillPouches, NoteFoodLost, WeighEmptyPouch
from packdesk.session.commands.labelling import NoteLabelsMade, NoteLabelsPrinted, NoteNumberLabels
from packdesk.session.commands.rounds import (
    CheckReady,
    FeelAbsorbers,
    OpenPacket,
    PlaceAbsorbers,
    ReopenPouches,
    ShutPouches,
    ShutRemainder,
    SwapPouches,
    TakeRemainder,
)
from packdesk.session.commands.sealing import DrawOffAir, SealPouches

__all__ = [
    "AddNote",
    "AgreePlan",
    "BypassCold",
    "CheckReady",
    "CheckSeals",
    "ChooseColdRule",
    "CloseSession",
    "Command",
    "DrawOffAir",
    "FeelAbsorbers",
    "FillPouches",
    "FreezeLoad",
    "LidPail",
    "LookAtLot",
    "NoteClockSet",
    "NoteCoreReading",
    "NoteFoodLost",
    "NoteFreezerReading",
    "NoteLabelsMade",
    "NoteLabelsPrinted",
    "NoteNumberLabels",
    "NoteRoomReading",
    "OpenPacket",
    "OpenPail",
    "OpenSession",
    "PlaceAbsorbers",
    "ReceiveLot",
    "ReopenPouches",
    "ReturnPouches",
    "RevisePlan",
    "RingAlarm",
    "SealPouches",
    "SetAside",
    "ShutPouches",
    "ShutRemainder",
    "SilenceAlarm",
    "StowPouches",
    "SwapPouches",
    "TakeCount",
    "TakeLoadOut",
    "TakeRemainder",
    "UncoverLoad",
    "UndoLast",
    "VoidFact",
    "WeighEmptyPouch",
]
