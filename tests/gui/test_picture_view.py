"""The Picture under the mouse: what is read out, what is drawn when close, that no word or mark covers another."""

import dataclasses
from collections.abc import Callable
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from routecheck.gui import theme
from routecheck.gui.picture.map_labels import Kind
from routecheck.gui.window import MainWindow

Open = Callable[..., MainWindow]
ZIGZAG = " DCT ".join(f"{29 + 3 * (i % 2)}{i * 7 % 60:02d}S{i // 6:03d}{i * 10 % 60:02d}E" for i in range(60))
BROKEN = "XYZZY DCT 5030 99N200W //// 31S0O2E $%& 31S002E UM12 LENDU/N0430F350 K0830F999 DCT DCT PIKAR"
NAMESAKES = "LENDU UM12 UVAGI DCT TOVIK DCT SARNO"


def show(qtbot: QtBot, window: MainWindow, route: str, **more: str) -> None:
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.session.replace_input(dataclasses.replace(window.session.route_input, route=route, **more))
    window.picture.grab()


def close_in(qtbot: QtBot, window: MainWindow, lat: float, lon: float, nm: float) -> None:
    assert window.session.answer is not None
    window.picture.chart.look_at(*window.session.answer.picture.projection.place(lat, lon), nm)
    qtbot.waitUntil(lambda: window.picture.chart.nearby is not None, timeout=10_000)
    window.picture.grab()


def spot(window: MainWindow, lat: float, lon: float) -> QPointF:
    place = window.picture.chart.picture.projection.place(lat, lon)
    x, y = window.picture.chart.frame().pixels(np.array([place]))[0]
    return QPointF(x, y)


def apart(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def assert_nothing_covers(window: MainWindow) -> None:
    overlay = window.picture.chart.overlay
    rects = [text.rect for text in overlay.texts] + list(overlay.marks.values())
    assert rects
    assert [pair for pair in combinations(rects, 2) if not apart(*pair)] == []


def test_no_word_and_no_mark_covers_another(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1400, 900)
    for route in ("LENDU UM12 TOVIK DCT SARNO", NAMESAKES, BROKEN, ZIGZAG):
        show(qtbot, window, route)
        window.picture.fit_route()
        for zoom in (0.6, 0.6, 1.8, 1.8):
            window.session.step_selection(1)
            window.picture.grab()
            assert_nothing_covers(window)
            window.picture.zoom(zoom)
            window.picture.grab()
            assert_nothing_covers(window)


def test_loaded_fixes_and_airways_are_drawn_only_close_in(qtbot: QtBot, window: MainWindow) -> None:
    show(qtbot, window, "LENDU DCT PIKAR UM12 TOVIK DCT SARNO")
    assert window.picture.chart.nearby is None
    close_in(qtbot, window, -31.0, 0.0, 160.0)
    assert {"ERDAM", "V40"} <= {t.text for t in window.picture.chart.overlay.texts if t.kind is Kind.LOADED}
    assert_nothing_covers(window)
    window.picture.fit_route()
    qtbot.waitUntil(lambda: window.picture.chart.nearby is None)


def test_whole_country_data_close_in_covers_nothing(qtbot: QtBot, window: MainWindow, test_data: Path) -> None:
    with qtbot.waitSignal(window.session.data_loaded, timeout=30_000):
        window.data.add_for_session([str(test_data / "faa_cifp_2301_northeast.txt.xz")])
    show(qtbot, window, "MERIT DCT PUT", departure="KJFK", destination="KBOS")
    for nm in (200.0, 60.0, 15.0):
        close_in(qtbot, window, 40.64, -73.78, nm)
        qtbot.wait(80)
        window.picture.grab()
        assert len([t for t in window.picture.chart.overlay.texts if t.kind is Kind.LOADED]) > 5
        assert_nothing_covers(window)


def test_a_loaded_fix_is_read_out(qtbot: QtBot, window: MainWindow) -> None:
    show(qtbot, window, "LENDU DCT PIKAR UM12 TOVIK DCT SARNO")
    close_in(qtbot, window, -31.0, 0.0, 160.0)
    place = next(p for p in window.picture.chart.nearby.fixes if p.ident == "FINAR")  # type: ignore[union-attr]
    said = window.picture.chart.hint(spot(window, place.lat, place.lon))
    assert said.startswith("FINAR: ")
    assert "not on the route" in said


def test_the_mouse_reads_out_position_leg_gap_and_finding(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select(None)
    window.picture.grab()
    answer = window.session.answer
    assert answer is not None
    assert "from XVAL" in window.picture.chart.hint(QPointF(5.0, 5.0))
    legs = {leg.index: leg for leg in answer.picture.legs}
    middle = window.picture.chart.frame().pixels((legs[3].curve[0] + legs[3].curve[-1])[None] / 2)[0]
    assert window.picture.chart.hint(QPointF(*middle)).startswith("TOVIK to SARNO, DCT\n")
    stub = window.picture.chart.frame().pixels((legs[2].curve[0] + legs[2].curve[1])[None] / 2)[0]
    assert window.picture.chart.hint(QPointF(*stub)).startswith("Gap, PIKOR to TOVIK\n")
    left, top, right, bottom = window.picture.chart.overlay.marks[0]
    assert (
        window.picture.chart.hint(QPointF((left + right) / 2, (top + bottom) / 2))
        == answer.assessment.findings[0].message
    )


def test_what_was_not_chosen_is_shown_when_the_word_is_picked(qtbot: QtBot, window: MainWindow) -> None:
    show(qtbot, window, NAMESAKES)
    other = window.picture.chart.picture.others[0]
    at = QPointF(*window.picture.chart.frame().pixels(np.array([(other.x, other.y)]))[0])
    assert "not chosen" not in window.picture.chart.hint(at)
    window.session.select_point(other.point)
    window.picture.grab()
    assert [t.text for t in window.picture.chart.overlay.texts if t.kind is Kind.OTHER] == ["TOVIK, 8.9 NM longer"]
    assert "not chosen" in window.picture.chart.hint(at)


def test_the_wheel_zooms_about_the_mouse(window: MainWindow) -> None:
    picture, at = window.picture.chart, QPointF(200.0, 120.0)
    place, wide = picture.frame().place(at), picture.seen()[2] - picture.seen()[0]
    none, no_delta = Qt.KeyboardModifier.NoModifier, QPoint()
    phase, button = Qt.ScrollPhase.NoScrollPhase, Qt.MouseButton.NoButton
    wheel = QWheelEvent(at, picture.mapToGlobal(at), no_delta, QPoint(0, 240), button, none, phase, False)
    QApplication.sendEvent(picture.viewport(), wheel)
    assert picture.frame().place(at) == pytest.approx(place)
    assert picture.seen()[2] - picture.seen()[0] == pytest.approx(wide / 1.02**30)
    assert not picture.follows


def test_dragging_moves_the_plane_and_picks_nothing(qtbot: QtBot, window: MainWindow) -> None:
    picture = window.picture.chart
    window.session.select(None)
    start, end = QPoint(300, 200), QPoint(360, 170)
    place = picture.frame().place(QPointF(start))
    qtbot.mousePress(picture.viewport(), Qt.MouseButton.LeftButton, pos=start)
    for spot in (QPoint(330, 190), end):
        qtbot.wait(15)  # pyqtgraph takes a hundred moves a second
        move = QMouseEvent(
            QEvent.Type.MouseMove,
            QPointF(spot),
            picture.mapToGlobal(QPointF(spot)),
            Qt.MouseButton.NoButton,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
        QApplication.sendEvent(picture.viewport(), move)
    qtbot.mouseRelease(picture.viewport(), Qt.MouseButton.LeftButton, pos=end)
    assert picture.frame().place(QPointF(end)) == pytest.approx(place)
    assert window.session.selection is None


def test_the_arrow_keys_move_and_the_rim_shows_where_they_go(qtbot: QtBot, window: MainWindow) -> None:
    picture = window.picture.chart
    west, south, east, north = picture.seen()
    qtbot.keyClick(picture, Qt.Key.Key_Right)
    qtbot.keyClick(picture, Qt.Key.Key_Up)
    dx, dy = 0.15 * (east - west), 0.15 * (north - south)
    assert picture.seen() == pytest.approx((west + dx, south + dy, east + dx, north + dy))


def test_zooming_ends_somewhere(window: MainWindow) -> None:
    for factor in (0.01, 100.0):
        for _ in range(8):
            window.picture.zoom(factor)
        west, _, east, _ = window.picture.chart.seen()
        assert 1.0 < east - west < 100_000.0
        assert not window.picture.grab().isNull()


def test_views_looked_at_are_gone_back_to(qtbot: QtBot, window: MainWindow) -> None:
    picture = window.picture.chart
    whole = picture.seen()
    seen = [whole]
    for factor in (0.5, 0.5):
        picture.zoom(factor)
        seen.append(picture.seen())
        qtbot.wait(700)  # looked at, not passed through
    window.picture.look_back()
    assert picture.seen() == pytest.approx(seen[1])
    window.picture.look_back()
    assert picture.seen() == pytest.approx(whole)
    window.picture.look_back()
    assert picture.seen() == pytest.approx(whole)
    window.picture.look_forward()
    assert picture.seen() == pytest.approx(seen[1])


def test_the_globe_is_never_lost_from_view(window: MainWindow) -> None:
    picture = window.picture.chart
    picture.zoom(1000.0)
    for _ in range(50):
        picture.move_by(1000.0, 700.0)
    west, south, _, _ = picture.seen()
    assert west < 10800
    assert south < 10800


def test_the_names_at_the_edges_stay_there_while_the_map_is_dragged(window: MainWindow) -> None:
    picture = window.picture.chart
    picture.grab()
    for _ in range(5):
        picture.move_by(7.0, 4.0)
        picture.grab()
        edges = [text.rect for text in picture.overlay.texts if text.kind is Kind.EDGE]
        assert len(edges) > 8
        for left, top, right, bottom in edges:
            assert min(left, top, picture.width() - right, picture.height() - bottom) < 6.0
        assert_nothing_covers(window)


@pytest.mark.usefixtures("dressed")
def test_the_scale_bar_leaves_its_corner_to_the_route(window: MainWindow) -> None:
    picture = window.picture.chart
    picture.grab()
    left, _, right, bottom = picture.overlay.layout(picture.frame()).bar
    assert (left, bottom) == (0.0, picture.frame().height)
    point = next(p for p in picture.picture.points if p.name == "XVAL")
    corner = picture.frame().place(QPointF(right / 2, bottom - 12.0))
    picture.move_by(point.x - corner[0], point.y - corner[1])
    picture.settle()
    picture.grab()
    bar = picture.overlay.layout(picture.frame()).bar
    assert (bar[0], bar[3]) != (left, bottom)
    assert_nothing_covers(window)
    assert all(apart(bar, text.rect) for text in picture.overlay.texts)


def test_what_is_laid_out_moves_along_with_the_map(qtbot: QtBot, window: MainWindow) -> None:
    picture = window.picture.chart
    picture.grab()
    before = picture.overlay.mark_at(QPointF(*picture.overlay.marks[0][:2]))
    assert before == 0
    left, top = picture.overlay.marks[0][:2]
    picture.move_by(20.0 / picture.frame().scale, 0.0)
    picture.grab()
    assert picture.overlay.mark_at(QPointF(left - 20.0 + 4, top + 4)) == 0


def test_a_gap_is_open_in_the_middle(window: MainWindow) -> None:
    picture = window.picture.chart
    window.session.select(None)
    image = picture.grab().toImage()
    gap = next(leg for leg in picture.picture.legs if leg.is_gap)
    ends = np.array([(end.x, end.y) for end in gap.ends])
    ground = {theme.LIGHT.paper, theme.LIGHT.land, theme.LIGHT.graticule}
    for places, is_ground in ((ends, True), (picture.picture.legs[0].curve, False)):
        middle = picture.frame().pixels(places).mean(axis=0).round()
        assert (image.pixelColor(*middle.astype(int).tolist()).name() in ground) is is_ground


def test_accepted_marks_keep_their_shape_without_its_filling(qtbot: QtBot, window: MainWindow) -> None:
    def filled() -> float:
        picture = window.picture.chart
        image = picture.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
        left, top, right, bottom = (round(v) for v in picture.overlay.marks[0])
        wrong = QColor(window.theme.wrong).rgb()
        cells = [(x, y) for x in range(left, right) for y in range(top, bottom)]
        return sum(image.pixel(x, y) == wrong for x, y in cells) / len(cells)

    window.session.select(None)
    before = filled()
    window.session.select_finding(0)
    dialog = window.acceptance.accept()
    assert dialog is not None
    dialog.reason.setText("x")
    dialog.by.setText("AB")
    with qtbot.waitSignal(window.session.assessed):
        dialog.accept()
    window.session.select(None)
    qtbot.waitUntil(lambda: window.picture.chart.rests)
    assert before > 0.3
    assert 0.02 < filled() < before / 2


def test_what_draws_the_same_is_not_laid_out_again(qtbot: QtBot, window: MainWindow) -> None:
    show(qtbot, window, "LENDU DCT XYZZA DCT QQQQQ DCT SARNO")
    qtbot.wait(200)  # the row under the text may need a second line, which moves the Picture
    qtbot.waitUntil(lambda: window.picture.chart.rests)
    window.picture.grab()
    before, marks = (
        window.picture.chart.overlay.layout(window.picture.chart.frame()),
        window.picture.chart.overlay.marks,
    )
    assert marks
    show(qtbot, window, "LENDU DCT XYZZQ DCT QQQQQ DCT SARNO")
    assert window.picture.chart.overlay.layout(window.picture.chart.frame()) is before
    assert "XYZZQ" in window.picture.chart.hint(
        QPointF(*(sum(side) / 2 for side in zip(marks[0][:2], marks[0][2:], strict=True)))
    )
    show(qtbot, window, "LENDU DCT XYZZQ DCT QQQQQ DCT TOVIK")
    assert window.picture.chart.overlay.layout(window.picture.chart.frame()) is not before


def test_a_step_of_the_view_is_painted_once(qtbot: QtBot, window: MainWindow) -> None:
    chart, paintings = window.picture.chart, []

    class Watch(QObject):
        def eventFilter(self, _viewport: QObject, event: QEvent) -> bool:  # noqa: N802
            paintings.append(event.type() is QEvent.Type.Paint)
            return False

    watch = Watch()
    chart.viewport().installEventFilter(watch)
    for step in range(20):  # until the view does not come to rest meanwhile, which paints once more
        paintings.clear()
        chart.zoom(0.99 - step / 1000)
        for _ in range(5):
            QApplication.processEvents()
        if not chart.rests:
            break
    chart.viewport().removeEventFilter(watch)
    assert sum(paintings) == 1
