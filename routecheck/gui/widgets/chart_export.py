"""A chart as a file, PNG or SVG, as it stands in its pane. Who asks for it is not known here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QIODevice, QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtSvg import QSvgGenerator

from routecheck.gui.theme import text_font
from routecheck.model import CAUTION

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintDevice

    from routecheck.gui.widgets.chart_view import ChartView

PNG, SVG = ".png", ".svg"
FINER = 2.0
"""A PNG is so much finer than a plain screen, for print."""
_DPI = 96
"""At another resolution Qt's generator puts texts elsewhere than lines."""
_FOOT_PX, _ASIDE_PX = 24, 10
"""The strip under the chart that carries the caution."""


def draw_chart(chart: ChartView, suffix: str) -> bytes:
    """Draw a chart as SVG where the suffix says so, else as PNG."""
    return svg_of(chart) if suffix == SVG else png_of(chart)


def png_of(chart: ChartView) -> bytes:
    """A chart as PNG, twice as fine as on a plain screen."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image_of(chart).save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())


def image_of(chart: ChartView) -> QImage:
    """A chart as an image, twice as fine as on a plain screen."""
    image = QImage(_size(chart) * FINER, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(FINER)
    _draw(chart, image, FINER)
    return image


def svg_of(chart: ChartView) -> bytes:
    """A chart as SVG. Qt's own generator draws it: pyqtgraph's exporter fails with PySide6 6.11."""
    buffer, generator = QBuffer(), QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setResolution(_DPI)
    generator.setSize(_size(chart))
    generator.setViewBox(QRect(QPoint(0, 0), _size(chart)))
    generator.setTitle(chart.accessibleName())
    generator.setDescription(CAUTION)
    _draw(chart, generator, 1.0)
    return bytes(buffer.data().data())


def _size(chart: ChartView) -> QSize:
    return QSize(chart.width(), chart.height() + _FOOT_PX)


def _draw(chart: ChartView, device: QPaintDevice, ratio: float) -> None:
    """The chart, then under it a strip with the caution: no result goes out without it."""
    chart.grab(QRect(0, 0, 1, 1))  # gives one that was never shown its size
    chart.settle()
    whole = QRect(0, 0, chart.width(), chart.height())
    foot = QRect(0, chart.height(), chart.width(), _FOOT_PX)
    painter = QPainter(device)
    painter.fillRect(whole, QColor(chart.theme.paper))
    with chart.exporting(ratio):
        chart.render(painter, QRectF(whole), whole)
    painter.resetTransform()
    painter.setClipping(False)
    # After the chart, over what reaches beyond its frame: Qt's generator clips nothing.
    painter.fillRect(foot, QColor(chart.theme.bar))
    painter.setPen(QColor(chart.theme.ink))
    painter.setFont(text_font(bold=True))
    align = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
    painter.drawText(foot.adjusted(_ASIDE_PX, 0, -_ASIDE_PX, 0), align, CAUTION)
    painter.end()
