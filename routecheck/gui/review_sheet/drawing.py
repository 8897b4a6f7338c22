"""Draws the pictures of a review sheet and puts its HTML on pages, without a window."""

from __future__ import annotations

import datetime as dt
import os
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QCoreApplication, QEvent, QIODevice, QMarginsF, QRectF, Qt
from PySide6.QtGui import QFont, QPageLayout, QPageSize, QPainter, QPdfWriter, QTextDocument
from PySide6.QtWidgets import QApplication

from routecheck.formatting import short
from routecheck.model import CAUTION
from routecheck.presentation.limits import changed_limits
from routecheck.report.review_sheet import write_sheet
from routecheck.report.route_names import name_route

if TYPE_CHECKING:
    from collections.abc import Iterator

    from PySide6.QtGui import QPagedPaintDevice

    from routecheck.gui.session import Session
    from routecheck.gui.widgets.chart_view import ChartView
    from routecheck.model import Assessment
    from routecheck.settings import Settings

PAPERS = {"A4": QPageSize.PageSizeId.A4, "Letter": QPageSize.PageSizeId.Letter}
WIDTH_PX = 670
"""How wide a picture stands on the page, in the pixels of the document."""
_MARGIN_MM = 15.0
_PICTURE_PX, _SIDE_PX = (1060, 370), (1060, 200)
_DPI = 96
"""In which the document counts its pixels."""
_FOOT_PX, _FONT_PX = 22, 10
_LONGEST_NAME = 60
"""Characters of the route's name that the foot has room for."""
_BOTTOM_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
_BOTTOM_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom


def make_sheet(assessment: Assessment, settings: Settings) -> tuple[str, str]:
    """The sheet of an assessment as HTML, as of now, and the name of its route."""
    html = write_sheet(
        assessment,
        at=dt.datetime.now(dt.UTC),
        limits=changed_limits(settings.limits),
        pictures=draw_pictures(assessment),
        width_px=WIDTH_PX,
    )
    return html, name_route(assessment)


def start_qt() -> QApplication:
    """The application, which Qt must have before anything is drawn; without a display where none runs yet."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication(["routecheck"])
    assert isinstance(app, QApplication)
    return app


def draw_pictures(assessment: Assessment) -> dict[str, bytes]:
    """Draw the Picture and, where there are altitudes, the Side view in the light theme; PNG by title."""
    from routecheck.gui.widgets.chart_export import png_of

    with _open_session(assessment) as session:
        return {title: png_of(chart) for title, chart in _make_charts(assessment, session)}


def draw_picture(
    assessment: Assessment, size_px: tuple[int, int] = _PICTURE_PX, *, is_dark: bool = False, is_plain: bool = False
) -> bytes:
    """Draw the Picture, as PNG. A plain one has no marks, figures and gaps: it tells nobody where to look."""
    from routecheck.gui.picture.chart import MapChart
    from routecheck.gui.theme import DARK, LIGHT
    from routecheck.gui.widgets.chart_export import png_of
    from routecheck.presentation.assessment_view import view_assessment
    from routecheck.presentation.map_scene import draw_plain_picture

    view = view_assessment(assessment, with_side=False)
    if is_plain:
        view = replace(view, picture=draw_plain_picture(assessment))
    with _open_session(assessment) as session:
        chart = MapChart(session, DARK if is_dark else LIGHT)
        chart.resize(*size_px)
        chart.show_screen(view)
        chart.fit_route()
        png = png_of(chart)
        chart.deleteLater()  # nothing else would: its parts hold each other
        QCoreApplication.sendPostedEvents(chart, QEvent.Type.DeferredDelete)  # now: a command has no event loop
        return png


@contextmanager
def _open_session(assessment: Assessment) -> Iterator[Session]:
    """A session of its own for charts that are drawn without a window."""
    app = start_qt()
    from routecheck.gui.session import Session
    from routecheck.gui.theme import LIGHT, apply_theme

    if not app.topLevelWidgets():
        apply_theme(app, LIGHT)
    route = assessment.route
    session = Session(route.route_input, lambda: route.date)
    try:
        yield session
    finally:
        session.close()


def make_pdf(html: str, name: str, paper: str) -> bytes:
    """A sheet as PDF."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle(f"Review sheet {name}")
    writer.setPageLayout(page_layout(paper))
    print_sheet(html, name, writer)
    return bytes(buffer.data().data())


def page_layout(paper: str) -> QPageLayout:
    """Upright, with margins that any printer keeps."""
    margins = QMarginsF(_MARGIN_MM, _MARGIN_MM, _MARGIN_MM, _MARGIN_MM)
    return QPageLayout(QPageSize(PAPERS[paper]), QPageLayout.Orientation.Portrait, margins, QPageLayout.Unit.Millimeter)


def print_sheet(html: str, name: str, device: QPagedPaintDevice) -> None:
    """Put a sheet on the pages of a printer or a PDF file; each says at its foot whose it is and the caution."""
    scale = device.logicalDpiX() / _DPI
    whole = device.pageLayout().paintRectPixels(_DPI).size()
    page = QRectF(0.0, 0.0, whole.width(), whole.height() - _FOOT_PX)
    document = QTextDocument()
    document.setDocumentMargin(0)
    document.setDefaultFont(_font())
    document.setHtml(html)
    document.setPageSize(page.size())
    painter = QPainter(device)
    painter.scale(scale, scale)
    for number in range(document.pageCount()):
        if number:
            device.newPage()
        painter.save()
        painter.translate(0.0, -number * page.height())
        document.drawContents(painter, page.translated(0.0, number * page.height()))
        painter.restore()
        foot = QRectF(0.0, page.height(), page.width(), _FOOT_PX)
        painter.setFont(_font())
        painter.drawText(foot, _BOTTOM_LEFT, f"{CAUTION}  {short(name, _LONGEST_NAME)}")
        painter.drawText(foot, _BOTTOM_RIGHT, f"page {number + 1} of {document.pageCount()}")
    painter.end()


def _font() -> QFont:
    """In pixels of the document, whatever the device is."""
    font = QFont("sans-serif")
    font.setPixelSize(_FONT_PX)
    return font


def _make_charts(assessment: Assessment, session: Session) -> Iterator[tuple[str, ChartView]]:
    from routecheck.gui.picture.chart import MapChart
    from routecheck.gui.side_view.chart import SideChart
    from routecheck.gui.theme import LIGHT
    from routecheck.presentation.assessment_view import view_assessment

    view = view_assessment(assessment)
    picture = MapChart(session, LIGHT)
    picture.resize(*_PICTURE_PX)
    picture.show_screen(view)
    picture.fit_route()
    yield "Picture", picture
    if view.side is not None and not view.side.missing:
        side = SideChart(session, LIGHT)
        side.resize(*_SIDE_PX)
        side.show_screen(view)
        yield "Side view", side
