"""One page of a paper as it will be printed, as large as there is room for."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from packdesk.desk.ports import PagePicture
from packdesk.ui.theme.theme import Theme
from packdesk.ui.widgets.strokes import draw_outline
from packdesk.ui.widgets.themed import Themed

PICTURE_WIDTH, LEAST_HEIGHT, PAPER_EDGE = 300, 250, 4


class PagePreview(Themed):
    """One page of a paper, as large as there is room for, on the sheet of the page."""

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        least_height: int = LEAST_HEIGHT,
    ) -> None:
        super().__init__(theme, parent, ground="sheet")
        self._least_height = least_height
        self._image: QImage | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.restyle()

    @property
    def image(self) -> QImage | None:
        """The page shown."""
        return self._image

    def show_picture(self, picture: PagePicture | None) -> None:
        """Show a page, or nothing."""
        if picture is None:
            self._image = None
            self.setAccessibleName("")
        else:
            self._image = QImage(
                picture.pixels,
                picture.width_px,
                picture.height_px,
                picture.stride,
                QImage.Format.Format_RGB32,
            ).copy()
            self.setAccessibleName(f"Page {picture.page + 1} of {picture.pages} as printed")
        self.setVisible(picture is not None)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.whole(PICTURE_WIDTH), self.theme.whole(self._least_height))

    def restyle(self) -> None:
        super().restyle()
        self.setMinimumWidth(self.theme.whole(PICTURE_WIDTH))
        self.setMinimumHeight(self.theme.whole(self._least_height))

    def draw(self, painter: QPainter) -> None:
        if self._image is None:
            return
        theme, edge = self.theme, self.theme.px(PAPER_EDGE)
        size = self._image.size().scaled(
            QSize(int(self.width() - edge - 1), int(self.height() - edge - 1)),
            Qt.AspectRatioMode.KeepAspectRatio,
        )
        page = QRectF(0.5, 0.5, size.width(), size.height())
        painter.fillRect(page.translated(edge, edge), theme.color("rule"))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(page, self._image)
        draw_outline(painter, page, 0, theme.px(1.2), theme.color("edge"))
