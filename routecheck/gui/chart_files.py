"""Writing a chart to a file of the user's choice: what is asked, and what is said afterwards."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.gui import dialogs
from routecheck.gui.widgets.chart_export import PNG, SVG, save_chart

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.widgets.chart_view import ChartView
    from routecheck.model import RouteInput

_KINDS = "Pictures (*.png *.svg)"


def ask_and_save(parent: QWidget, chart: ChartView, route_input: RouteInput) -> str:
    """Ask for a file, write a chart to it, and tell what came of it; "" where no file was chosen."""
    what = chart.accessibleName()
    ends = "-".join(filter(None, (route_input.departure, route_input.destination))) or "route"
    suggested = Path.home() / f"{ends}-{what.lower().replace(' ', '-')}{PNG}"
    chosen = dialogs.file_to_save(parent, f"Export the {what}", suggested, _KINDS)
    if not chosen:
        return ""
    path = Path(chosen)
    if path.suffix.lower() not in (PNG, SVG):
        path = path.with_name(path.name + PNG)
    try:
        save_chart(chart, path)
    except OSError as trouble:
        return f"Not exported. {path.name}: {(trouble.strerror or str(trouble)).lower()}."
    return f"{what} exported as {path.name}."
