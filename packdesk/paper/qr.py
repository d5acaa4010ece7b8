"""The square code on a label: any text, readable by a phone that has no program of ours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import zxingcpp

QUIET_MODULES = 4
"""White modules wanted on every side. Source: ISO/IEC 18004."""

_TO_BITS = b"0" + bytes(254) + b"1"
"""Dark pixels (0) to the figure 0, light ones (255) to 1."""


@dataclass(frozen=True, slots=True)
class QrCode:
    """One code: how many modules to a side, and all its modules as hexadecimal digits.

    Rows follow one another from the top, each filled up with ones to whole bytes; 0 is dark.
    """

    modules: int
    digits: str

    def operators(self, x: float, y: float, side: float) -> str:
        """PDF operators that paint the dark modules in the current colour.

        `x`, `y` is the lower left corner of the code and `side` its width, without the quiet
        zone, in points. It is a stencil of one bit a module: the quickest way to set a code, the
        shortest in the file, and no gaps can show between modules.
        """
        return (
            f"q {side:.3f} 0 0 {side:.3f} {x:.3f} {y:.3f} cm "
            f"BI /W {self.modules} /H {self.modules} /BPC 1 /IM true /F /AHx ID\n"
            f"{self.digits}>\nEI Q"
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
    modules: int = image.shape[0]
    bits = bytes(image).translate(_TO_BITS).decode("ascii")
    fill = "1" * (-modules % 8)
    rows = (bits[at : at + modules] + fill for at in range(0, modules * modules, modules))
    length = modules * (modules + len(fill)) // 4
    return QrCode(modules, f"{int(''.join(rows), 2):0{length}x}")
