"""Writing the route or a chart to a file of the user's choice: what is asked, and what is said afterwards."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication

from routecheck.faults import system_reason
from routecheck.files import write_atomically

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.session import Session
    from routecheck.gui.widgets.chart_view import ChartView

_PICTURES = "Pictures (*.png *.svg)"


class Exports(QObject):
    """Asks for a file, writes it, and tells what came of it."""

    reported = Signal(str)

    def __init__(self, session: Session, host: QWidget) -> None:
        super().__init__(host)
        self._session, self._host = session, host

    def export_route(self) -> None:
        """Write the route in hand in an open standard."""
        answer = self._session.answer
        if answer is None or not self._session.is_answer_current:
            self.reported.emit("Not exported: the route is not checked yet.")
            return
        from routecheck.report.exports import EXPORTS

        kinds = ";;".join(f"{export.title} (*{suffix})" for suffix, export in EXPORTS.items())
        self._export("route", kinds, tuple(EXPORTS), lambda suffix: EXPORTS[suffix].write(answer.assessment).encode())

    def copy_chart(self, chart: ChartView | None) -> None:
        """Put the Picture or the Side view on the clipboard as it stands in its pane."""
        if chart is None:
            self.reported.emit("There is no Picture yet.")
            return
        from routecheck.gui.widgets.chart_export import image_of

        QGuiApplication.clipboard().setImage(image_of(chart))
        self.reported.emit(f"{chart.accessibleName()} copied, with the caution under it.")

    def export_chart(self, chart: ChartView | None) -> None:
        """Write the Picture or the Side view as it stands in its pane."""
        if chart is None:
            self.reported.emit("There is no Picture yet.")
            return
        from routecheck.gui.widgets.chart_export import PNG, SVG, draw_chart

        name = chart.accessibleName()
        self._export(name, _PICTURES, (PNG, SVG), lambda suffix: draw_chart(chart, suffix))

    def save_sheet(self) -> None:
        """Write the review sheet as PDF or as a page for a browser."""
        from routecheck.gui.review_sheet.drawing import make_pdf

        if (sheet := self._make_sheet()) is None:
            return
        html, name = sheet
        self._export(
            "review sheet",
            "PDF (*.pdf);;Page for a browser (*.html)",
            (".pdf", ".html"),
            lambda suffix: html.encode() if suffix == ".html" else make_pdf(html, name, "A4"),
        )

    def print_sheet(self) -> None:
        """Ask for a printer and print the review sheet."""
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        from routecheck.gui.review_sheet.drawing import page_layout, print_sheet

        if (sheet := self._make_sheet()) is None:
            return
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setPageLayout(page_layout("A4"))
        if QPrintDialog(printer, self._host).exec():
            print_sheet(*sheet, printer)
            self.reported.emit("The review sheet is printed.")

    def _make_sheet(self) -> tuple[str, str] | None:
        """The sheet as HTML, with the name of its route; None where the route is not checked yet."""
        answer = self._session.answer
        if answer is None or not self._session.is_answer_current:
            self.reported.emit("There is no review sheet: the route is not checked yet.")
            return None
        from routecheck.gui.review_sheet.drawing import make_sheet

        return make_sheet(answer.assessment, self._session.settings)

    def _export(self, what: str, kinds: str, suffixes: tuple[str, ...], content: Callable[[str], bytes]) -> None:
        """Ask for a file with one of the suffixes, else the first is added; write it; say so."""
        from routecheck.gui import dialogs

        route_input = self._session.route_input
        ends = "-".join(filter(None, (route_input.departure, route_input.destination))) or "route"
        part = "" if what == "route" else f"-{what.lower().replace(' ', '-')}"
        chosen = dialogs.file_to_save(
            self._host, f"Export the {what}", Path.home() / f"{ends}{part}{suffixes[0]}", kinds
        )
        if not chosen:
            return
        path = Path(chosen)
        if path.suffix.lower() not in suffixes:
            path = path.with_name(path.name + suffixes[0])
        try:
            write_atomically(path, content(path.suffix.lower()))
        except OSError as trouble:
            self.reported.emit(f"Not exported. {path.name}: {system_reason(trouble)}.")
        else:
            self.reported.emit(f"{what[:1].upper()}{what[1:]} exported as {path.name}.")
