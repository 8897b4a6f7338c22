"""Guards the choice of PySide6: version 6.12.0 loses references to None on Python 3.11 and aborts after some hundred
repaints. The bound in pyproject.toml keeps it away; these tests notice if it comes back."""

import sys
from importlib.metadata import version

import pytest
from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsItem, QGraphicsScene, QGraphicsView, QWidget

REPAINTS = 300
IMMORTAL = sys.version_info >= (3, 12)  # from then on None is never counted, and cannot be lost


class Painted(QWidget):
    """A widget as ours are: painting, size and events told in Python."""

    painted = 0

    def paintEvent(self, event):  # noqa: N802
        painter = QPainter(self)
        painter.setPen(self.palette().text().color())
        painter.drawText(self.rect(), 0, "Cross-check only")
        painter.end()
        self.painted += 1

    def sizeHint(self):  # noqa: N802
        return QSize(200, 100)

    def event(self, event):
        return super().event(event)


class Item(QGraphicsItem):
    """An item of a picture as ours are."""

    painted = 0

    def boundingRect(self):  # noqa: N802
        return QRectF(0, 0, 50, 50)

    def paint(self, painter, option, widget=None):
        painter.drawLine(0, 0, 50, 50)
        self.painted += 1


def nones_lost(repaint):
    """How far the count of None falls. Seen: none with 6.11.3, two a repaint with 6.12.0."""
    repaint()
    before = sys.getrefcount(None)
    for _ in range(REPAINTS):
        repaint()
    return before - sys.getrefcount(None)


def test_the_installed_version_is_a_sound_one():
    major, minor = map(int, version("PySide6-Essentials").split(".")[:2])
    assert (6, 8) <= (major, minor) < (6, 12)


@pytest.mark.skipif(IMMORTAL, reason="None is immortal from Python 3.12 on: there is no count to lose")
def test_repainting_a_widget_loses_no_reference_to_none(qtbot):
    widget = Painted()
    qtbot.addWidget(widget)
    with qtbot.waitExposed(widget):
        widget.show()
    assert nones_lost(widget.repaint) < REPAINTS / 10
    assert widget.painted > REPAINTS


@pytest.mark.skipif(IMMORTAL, reason="None is immortal from Python 3.12 on: there is no count to lose")
def test_repainting_a_picture_loses_no_reference_to_none(qtbot):
    scene, item = QGraphicsScene(), Item()
    scene.addItem(item)
    view = QGraphicsView(scene)
    qtbot.addWidget(view)
    with qtbot.waitExposed(view):
        view.show()
    assert nones_lost(view.viewport().repaint) < REPAINTS / 10
    assert item.painted > REPAINTS
