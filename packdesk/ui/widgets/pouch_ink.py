"""The colours a pouch is drawn in, on a page or reversed on a solid control."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor

from packdesk.ui.theme.tokens import Tokens


@dataclass(frozen=True, slots=True)
class PouchInk:
    """The colours of a pouch on its ground: the page's own, or reversed on the main control."""

    outline: QColor
    ground: QColor
    foil: QColor
    solid: QColor
    planned: QColor

    @classmethod
    def on_ground(cls, tokens: Tokens, ground: str) -> PouchInk:
        """A pouch on cloth or sheet, `ground` being that colour."""
        return cls(
            outline=QColor(tokens.ink),
            ground=QColor(ground),
            foil=QColor(tokens.foil),
            solid=QColor(tokens.indigo),
            planned=QColor(tokens.edge),
        )

    @classmethod
    def on_body(cls, line: QColor, body: QColor) -> PouchInk:
        """A pouch in `line` on a solid `body`, as on the main control."""
        return cls(outline=line, ground=body, foil=body, solid=line, planned=line)
