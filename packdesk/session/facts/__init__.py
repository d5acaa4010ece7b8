"""Every kind of fact a record can hold, by stage; the words are the format.

The one door to them: a fact is asked for here, whichever stage it stands with.
"""

from packdesk.session.fact import Fact, concrete_kinds

# In the order of a session, which the published schema keeps.
# isort: off
from packdesk.session.facts.before import LotLookedAt, LotReceived, PlanAgreed, SessionOpened
from packdesk.session.facts.cold import (
    ColdRuleChosen,
    CoreRead,
    FreezerRead,
    LoadFrozen,
    LoadTakenOut,
    LoadUncovered,
    LotBypassedCold,
    RoomRead,
)
from packdesk.session.facts.filling import EmptyPouchWeighed, FoodLost, PouchesFilled
from packdesk.session.facts.rounds import (
    AbsorbersFelt,
    AbsorbersPlaced,
    PacketOpened,
    PouchesReopened,
    PouchesShut,
    PouchesSwapped,
    ReadyChecked,
    RemainderShut,
    RemainderTaken,
    RoundStarted,
)
from packdesk.session.facts.sealing import AirDrawnOff, PouchesSealed
from packdesk.session.facts.labelling import (
    LabelsMade,
    LabelsPrinted,
    NumberLabelsPrinted,
    StockSheetUsed,
)
from packdesk.session.facts.after import (
    PailLidded,
    PailOpened,
    PouchesReturned,
    PouchesSetAside,
    PouchesStowed,
    SealChecked,
    SessionClosed,
)
from packdesk.session.facts.any_time import (
    AlarmRang,
    AlarmSilenced,
    CountTaken,
    FactVoided,
    NoteAdded,
    WallClockSet,
)
# isort: on

__all__ = [
    "KINDS",
    "AbsorbersFelt",
    "AbsorbersPlaced",
    "AirDrawnOff",
    "AlarmRang",
    "AlarmSilenced",
    "ColdRuleChosen",
    "CoreRead",
    "CountTaken",
    "EmptyPouchWeighed",
    "FactVoided",
    "FoodLost",
    "FreezerRead",
    "LabelsMade",
    "LabelsPrinted",
    "LoadFrozen",
    "LoadTakenOut",
    "LoadUncovered",
    "LotBypassedCold",
    "LotLookedAt",
    "LotReceived",
    "NoteAdded",
    "NumberLabelsPrinted",
    "PacketOpened",
    "PailLidded",
    "PailOpened",
    "PlanAgreed",
    "PouchesFilled",
    "PouchesReopened",
    "PouchesReturned",
    "PouchesSealed",
    "PouchesSetAside",
    "PouchesShut",
    "PouchesStowed",
    "PouchesSwapped",
    "ReadyChecked",
    "RemainderShut",
    "RemainderTaken",
    "RoomRead",
    "RoundStarted",
    "SealChecked",
    "SessionClosed",
    "SessionOpened",
    "StockSheetUsed",
    "WallClockSet",
]

KINDS: dict[str, type[Fact]] = concrete_kinds(Fact)
"""Every fact class by the word that the record keeps."""
