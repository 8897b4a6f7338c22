"""The Picture of a route as a file, without a window."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from routecheck.files import write_atomically

if TYPE_CHECKING:
    from pathlib import Path

    from routecheck.model import Assessment

_WIDTH_PX, _HEIGHT_PX = 1400, 900


def export_picture(assessment: Assessment, path: Path) -> None:
    """Draw the route in the light theme and write it as PNG or SVG, as the suffix says. Raises OSError."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication(["routecheck"])
    assert isinstance(app, QApplication)
    from routecheck.gui.picture.chart import MapChart
    from routecheck.gui.session import Session
    from routecheck.gui.theme import LIGHT, apply_theme
    from routecheck.gui.widgets.chart_export import draw_chart
    from routecheck.presentation.assessment_view import view_assessment

    apply_theme(app, LIGHT)
    route = assessment.route
    session = Session(route.route_input, lambda: route.date)
    try:
        chart = MapChart(session, LIGHT)
        chart.resize(_WIDTH_PX, _HEIGHT_PX)
        chart.show_screen(view_assessment(assessment, with_side=False))
        chart.fit_route()
        write_atomically(path, draw_chart(chart, path.suffix.lower()))
    finally:
        session.close()
