"""The square code on a label: any text, readable by a phone that has no program of ours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import zxingcpp

QUIET_MODULES = 4
"""White modules wanted on every side. Source: ISO/IEC 18004."""

LEAST_MODULE_MM = 0.34
"""Four dots of a 300 dpi printer, below which phones begin to fail."""

_HEX = bytes([ord("0")]) + bytes(254) + b"f"


@dataclass(frozen=True, slots=True)
class QrCode:
    """One code: `modules` to a side and a row of hexadecimal digits each (0 dark, f light)."""

    modules: int
    rows: tuple[str, ...]

    def side_mm(self, module_mm: float) -> float:
        """How wide the dark square is, quiet zone not included."""
        return self.modules * module_mm

    def operators(self, x: float, y: float, side: float) -> str:
        """PDF operators that paint the code in the current colour.

        `x`, `y` is the lower left corner of the dark square and `side` its width, in points.

        The code is a stencil mask: one digit, four dots wide, for each module, so that nothing
        has to be packed into bits, and no gaps can show between modules.
        """
        odd = "f" if self.modules % 2 else ""
        digits = f"{odd}\n".join(self.rows) + odd
        return (
            f"q {side:.3f} 0 0 {side:.3f} {x:.3f} {y:.3f} cm "
            f"BI /W {4 * self.modules} /H {self.modules} /BPC 1 /IM true /F /AHx ID\n"
            f"{digits}>\nEI Q"
        )


def qr_code(text: str) -> QrCode:
    """The smallest code of level M that holds `text`; text beyond ASCII is held as UTF-8.

    Raises `ValueError` for an empty text and for one longer than any code can hold.
    """
    if not text:
        raise ValueError("The code of a label is empty. Give it the words it should hold.")
    encoding = {} if text.isascii() else {"eci": "UTF-8"}
    try:
        barcode = zxingcpp.create_barcode(
            text, zxingcpp.BarcodeFormat.QRCode, ec_level="M", **encoding
        )
    except ValueError as error:
        raise ValueError(
            f"The code of a label has {len(text)} characters, more than any code can hold. "
            "Shorten it."
        ) from error
    image: Any = barcode.to_image(scale=1, add_quiet_zones=False)
    side: int = image.shape[0]
    digits = bytes(image).translate(_HEX).decode("ascii")
    return QrCode(side, tuple(digits[at : at + side] for at in range(0, side * side, side)))
