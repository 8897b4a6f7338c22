"""A window on which files can be dropped: the first of them is opened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMainWindow

if TYPE_CHECKING:
    from PySide6.QtGui import QDragEnterEvent, QDropEvent


class FileDropWindow(QMainWindow):
    """Says which file was dropped by opening it."""

    def __init__(self) -> None:
        super().__init__()
        self.setAcceptDrops(True)

    def open_route(self, path: str) -> None:
        """Open a file."""
        raise NotImplementedError

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take files."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Open a dropped file."""
        paths = [url.toLocalFile() for url in event.mimeData().urls() if url.isLocalFile()]
        if paths:
            self.open_route(paths[0])
