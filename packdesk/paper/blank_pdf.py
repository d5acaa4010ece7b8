"""How every PDF of ours begins: faces at hand, binary streams, and no date but what is set."""

from __future__ import annotations

from typing import BinaryIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from packdesk.paper.fonts import printable, register_faces
from packdesk.paper.page_sizes import MM

# Read when a file is saved: without it every stream is wrapped in printable characters, which
# makes the file a quarter larger. Only this room speaks reportlab, so nobody else is affected.
rl_config.useA85 = 0

AUTHOR = "PackDesk"


def blank_pdf(out: BinaryIO, size_mm: tuple[float, float], title: str) -> Canvas:
    """An empty page of `size_mm` (width, height); equal content gives equal bytes."""
    register_faces()
    size = (size_mm[0] * MM, size_mm[1] * MM)
    canvas = Canvas(out, pagesize=size, invariant=1, pageCompression=1)
    canvas.setTitle(printable(title))
    canvas.setAuthor(AUTHOR)
    return canvas


def ask_for_actual_size(canvas: Canvas) -> None:
    """Tell viewers that listen to it to print without fitting the page to the paper."""
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setSubject("Print at actual size (100 %)")
