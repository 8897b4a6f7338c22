"""Picture and Side view as files: what they show is in them, the caution too, and a file is whole or not there."""

import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer
from pytestqt.qtbot import QtBot

from routecheck.gui import dialogs
from routecheck.gui.picture.chart import MapChart
from routecheck.gui.theme import LIGHT
from routecheck.gui.widgets.chart_export import png_of, svg_of
from routecheck.gui.window import MainWindow

CONFLICT = Path(__file__).resolve().parents[2] / "sample_routes" / "planted" / "windows-that-cannot-be-met.route.toml"
SVG = "{http://www.w3.org/2000/svg}"


def texts(svg: bytes) -> set[str]:
    return {"".join(node.itertext()).strip() for node in ET.fromstring(svg).iter(f"{SVG}text")}


def blue(image: QImage) -> int:
    """How much of an image has the colour of the route."""
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    pixels = np.frombuffer(plain.constBits(), np.uint8).reshape(plain.height(), plain.width(), 4).astype(int)
    return int((pixels[..., 0] - pixels[..., 2] > 60).sum())


@pytest.fixture
def shown(qtbot: QtBot, window: MainWindow) -> MainWindow:
    window.resize(1200, 900)
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.open_route(str(CONFLICT))
    window.side.unfold().look_at_arrival()
    return window


def test_an_svg_holds_names_marks_and_caution_as_text(shown: MainWindow) -> None:
    for chart, expected in (
        (shown.picture.chart, {"LENDU", "KEBUL", "XVOR", "1", "100 NM"}),
        (shown.side.chart, {"KEBUL", "RIPAS", "≥ FL240", "FL300", "1"}),
    ):
        svg = svg_of(chart)
        assert expected | {"Cross-check only. Not for navigation."} <= texts(svg)
        assert b"<image" not in svg, "drawn as an image, not as lines"
        assert QSvgRenderer(svg).isValid()


def test_nothing_of_the_side_view_is_drawn_beyond_its_frame(qtbot: QtBot, shown: MainWindow) -> None:
    """The generator knows no clipping, so that what is out of view must not be drawn at all."""
    with qtbot.waitSignal(shown.session.assessed, timeout=20_000):
        shown.open_route(str(CONFLICT.parents[1] / "clean" / "runway-to-runway.route.toml"))
    shown.side.unfold().look_at_arrival()
    chart = shown.side.chart
    image = QImage(chart.width(), chart.height() + 24, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    QSvgRenderer(svg_of(chart)).render(painter)
    painter.end()
    left, rows = round(chart.frame().left), range(chart.height())
    inside = [row for row in rows if image.pixelColor(left + 5, row).name() == LIGHT.route]
    assert inside
    assert LIGHT.route not in {image.pixelColor(x, row).name() for x in range(2, left - 2) for row in inside}


def test_a_png_is_twice_as_fine_and_looks_the_same(shown: MainWindow) -> None:
    chart = shown.picture.chart
    image = QImage.fromData(png_of(chart), "PNG")
    assert (image.width(), image.height()) == (2 * chart.width(), 2 * (chart.height() + 24))
    seen = chart.grab().toImage()
    assert blue(image) == pytest.approx(4 * blue(seen), rel=0.15), "lines are as wide, on four times the pixels"
    assert chart.grab().toImage() == seen, "the export leaves its traces on the screen"


def test_a_chart_that_was_never_shown_can_be_exported(shown: MainWindow) -> None:
    chart = MapChart(shown.session, LIGHT)
    chart.resize(1600, 1000)
    chart.show_screen(shown.session.answer)
    svg = svg_of(chart)
    assert {"LENDU", "XVOR", "30°S", "005°E"} <= texts(svg)
    assert ET.fromstring(svg).get("viewBox") == "0 0 1600 1024"
    assert (chart.box.width(), chart.box.height()) == (1600, 1000)
    chart.deleteLater()


def test_the_menu_writes_a_file_and_says_so(shown: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, written, head in (
        ("map.svg", "map.svg", b"<?xml"),
        ("map.PNG", "map.PNG", b"\x89PNG"),
        ("map", "map.png", b"\x89PNG"),
    ):
        monkeypatch.setattr(dialogs, "file_to_save", lambda *_, name=name: str(tmp_path / name))
        shown.exports.export_chart(shown.picture.chart)
        assert (tmp_path / written).read_bytes().startswith(head)
        assert shown.status.message.text() == f"Picture exported as {written}."
    monkeypatch.setattr(dialogs, "file_to_save", lambda *_: "")
    before = sorted(tmp_path.iterdir())
    shown.exports.export_chart(shown.side.chart)
    assert sorted(tmp_path.iterdir()) == before


def test_what_cannot_be_written_is_said(shown: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dialogs, "file_to_save", lambda *_: str(tmp_path / "nowhere" / "map.png"))
    shown.exports.export_chart(shown.picture.chart)
    assert shown.status.message.text() == "Not exported. map.png: no such file or directory."


def test_the_route_is_exported_as_its_suffix_says(window: MainWindow, tmp_path, monkeypatch) -> None:
    target = tmp_path / "a.geojson"
    monkeypatch.setattr("routecheck.gui.dialogs.file_to_save", lambda *_: str(target))
    window.exports.export_route()
    assert target.read_text(encoding="utf-8").startswith('{\n "type": "FeatureCollection"')
    assert "Route exported as a.geojson." in window.status.message.text()


def test_found_points_the_ruler_and_land_go_into_files_and_onto_the_clipboard(shown: MainWindow) -> None:
    chart, finder = shown.picture.chart, shown.picture.finder
    assert finder is not None
    finder.begin()
    finder.bar.field.setText("ERDAM")
    finder.bar.search()
    shown.menu_actions.use_ruler.trigger()
    for spot in (QPointF(200, 150), QPointF(420, 260)):
        chart.clicked.emit(spot)
    svg = svg_of(chart)
    assert {"ERDAM", *chart.marks.ruler} <= texts(svg)
    assert LIGHT.land.encode() in svg
    QGuiApplication.clipboard().clear()
    width, height = chart.width(), chart.height()
    shown.exports.copy_chart(chart)
    copied = QGuiApplication.clipboard().image()
    assert (copied.width(), copied.height()) == (2 * width, 2 * (height + 24))
