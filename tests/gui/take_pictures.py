"""Takes pictures of the window: `python tests/gui/take_pictures.py FOLDER`; with `--readme` also that of the README.

With `--sizes` only twelve routes, each at five sizes and in both themes.

Needs a display, or xvfb-run, or QT_QPA_PLATFORM=offscreen. Nothing of the user's own is read or written.
"""

import dataclasses
import datetime as dt
import math
import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEventLoop, QPointF, Qt, QTimer
from PySide6.QtWidgets import QApplication

from routecheck.gui import app, theme
from routecheck.gui.window import MainWindow
from routecheck.model import Claim, Wind
from routecheck.reading.inputs import read_input

ROOT = Path(__file__).resolve().parents[2]
README_PICTURE = ROOT / "resources" / "picture-of-the-window.png"
WAVE = [(31 + 2 * math.sin(i / 9), i * 0.045) for i in range(220)]
LONG = " DCT ".join(f"{int(s)}{int(s % 1 * 60):02d}S{int(e):03d}{int(e % 1 * 60):02d}E" for s, e in WAVE)
BROKEN = "XYZZY DCT 5030 99N200W //// 31S0O2E $%& 31S002E UM12 ÄÖ LENDU/N0430F350 K0830F999 DCT DCT PIKAR"
ROUTES = {
    "long": (LONG, "XVAL", "XVOR"),
    "date-line": ("40N170E 42N175W 35N160W", "RJAA", "KSFO"),
    "pole": ("80N030W 89N060W 85N160E 70N150E", "ENSB", "UHMM"),
    "empty": ("", "", ""),
    "broken": (BROKEN, "XVAL", "ZZZ9"),
}


NAMESAKES = "LENDU UM12 UVAGI DCT TOVIK DCT SARNO"
CLAIMED = "LENDU DCT PIKOR UM12 TOVIK/N0430F370 DCT SARNO DCT KEBUL DCT RIPAS"
ENDS = {"departure": "XVAL", "destination": "XVOR"}
FLOWN = {
    "route": "LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2",
    "departure_runway": "09",
    "destination_runway": "27",
    "aircraft_sheet": "Medium jet",
    "wind": (Wind(280, 45, "F350"), Wind(270, 30, "F240")),
    **ENDS,
}
CLAIMS = (
    Claim("LENDU", distance_nm=101.0, course_magnetic_deg=91.0),
    Claim("PIKOR", distance_nm=93.9, course_magnetic_deg=97.0),
    Claim("SARNO", distance_nm=144.0, course_magnetic_deg=110.0),
)


def answered(window: MainWindow, ask: Callable[[], object]) -> None:
    """Ask for something and wait for the answer and its painting."""
    loop = QEventLoop()
    window.session.assessed.connect(loop.quit)
    ask()
    loop.exec()
    window.session.assessed.disconnect(loop.quit)
    settle()


def settle() -> None:
    loop = QEventLoop()
    QTimer.singleShot(150, loop.quit)
    loop.exec()


def take(window: MainWindow, file: Path) -> None:
    window.grab().save(str(file))
    sys.stdout.write(f"{file.name}: {file.stat().st_size / 1000:.0f} kB\n")


def more_pictures(window: MainWindow, folder: Path) -> None:
    """Close in on loaded fixes; a place not chosen; claims; a finding accepted; the small windows."""
    route_input = window.session.route_input
    answered(window, lambda: window.session.replace_input(dataclasses.replace(route_input, route=NAMESAKES, **ENDS)))
    window.session.select_finding(0)
    take(window, folder / "namesakes.png")
    window.picture.chart.look_at(*window.picture.chart.picture.projection.place(-31.0, 1.5), 260.0)
    settle()
    take(window, folder / "close.png")
    window.picture.fit_route()
    answered(
        window,
        lambda: window.session.replace_input(dataclasses.replace(route_input, route=CLAIMED, claims=CLAIMS, **ENDS)),
    )
    take(window, folder / "claims.png")
    answered(window, window.open_demo)
    window.session.select_finding(0)
    dialog = window.acceptance.accept()
    dialog.reason.setText("cleared so by the controller, read back")
    dialog.by.setText("AB")
    settle()
    dialog.grab().save(str(folder / "accept.png"))
    answered(window, dialog.accept)
    window.session.select_finding(0)
    take(window, folder / "accepted.png")
    answered(window, lambda: window.session.replace_input(dataclasses.replace(route_input, **FLOWN)))
    take(window, folder / "procedures.png")
    window.flight_fields.fields["destination_runway"].setText("09")
    answered(window, window.flight_fields.edited.emit)
    take(window, folder / "runway.png")
    sheets_window = window.sheets.show_window()
    settle()
    sheets_window.grab().save(str(folder / "sheets.png"))
    sheets_window.reject()
    listed = window.data.show_window()
    settle()
    listed.grab().save(str(folder / "data.png"))
    listed.reject()


def side_pictures(window: MainWindow, folder: Path) -> None:
    """The Side view: windows that cannot be met, closer in, read out, dark, in small and large, with nothing to see."""
    samples = ROOT / "sample_routes"
    answered(window, lambda: window.open_route(str(samples / "planted" / "windows-that-cannot-be-met.route.toml")))
    chart = window.side.unfold()
    window.session.step_selection(1)
    for name, (width, height) in {"side": (1200, 800), "side-small": (1000, 700), "side-large": (3840, 2100)}.items():
        window.resize(width, height)
        chart.look_at_all()
        settle()
        take(window, folder / f"{name}.png")
        chart.look_at_arrival()
        settle()
        take(window, folder / f"{name}-arrival.png")
    window.resize(1200, 800)
    window.choose_theme(Qt.ColorScheme.Dark)
    settle()
    chart.hovered.emit(QPointF(chart.width() * 0.45, chart.height() / 2))
    take(window, folder / "side-read-out-dark.png")
    chart.departed.emit()
    window.choose_theme(Qt.ColorScheme.Light)
    answered(window, window.open_demo)
    take(window, folder / "side-demo.png")


MANY = " DCT ".join(f"{50 + i % 7}{i * 13 % 60:02d}N{i // 5:03d}{i % 5 * 12:02d}W" for i in range(500))
SIZES = {"1100": (1100, 700, 1.0), "1100-150": (1100, 700, 1.5), "1400": (1400, 900, 1.0), "1920": (1920, 1080, 1.0)}
SIZES["3840"] = (3840, 2160, 2.0)
"""Width, height, and how many times as large as usual the text."""
TWELVE = {
    **ROUTES,
    "short": ("DCT", "EGLL", "EGKK"),
    "ocean": ("50N020W 51N030W 51N040W 50N050W", "EGLL", "CYYT"),
    "not-covered": ("LAM DCT REDFA L980 SPY", "EGLL", "EHAM"),
    "many": (MANY, "EGLL", "CYYT"),
}


def pictures_at_sizes(window: MainWindow, folder: Path) -> None:
    """Twelve routes at every size, light and dark: those above, the demo, arcs and holds, a comparison."""
    usual = QApplication.font().pointSizeF()
    before = window.session.route_input
    asked = {
        name: dataclasses.replace(
            before, route=text, departure=a, destination=b, departure_runway="", destination_runway="", alternate=()
        )
        for name, (text, a, b) in TWELVE.items()
    }
    sample = ROOT / "sample_routes" / "clean" / "runway-to-runway.route.toml"
    asked["arcs"] = next(iter(read_input(sample.read_bytes(), sample.name)))
    asked["compared"] = dataclasses.replace(before, other=dataclasses.replace(before, route=NAMESAKES))
    asked["demo"] = before
    for size, (width, height, larger) in SIZES.items():
        font = QApplication.font()
        font.setPointSizeF(usual * larger)
        QApplication.setFont(font)
        window.resize(width, height)
        for name, route_input in asked.items():
            answered(window, lambda route_input=route_input: window.session.replace_input(route_input))
            for dark in (False, True):
                window.choose_theme(Qt.ColorScheme.Dark if dark else Qt.ColorScheme.Light)
                settle()
                take(window, folder / f"{name}-{size}{'-dark' if dark else ''}.png")


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    os.environ["XDG_DATA_HOME"] = tempfile.mkdtemp()
    app.today = lambda: dt.date(2026, 12, 1)
    application = QApplication([])
    application.setStyle("Fusion")
    theme.apply_theme(application, theme.LIGHT)
    window = app.open_window(None, [], demo=True)
    window.resize(1400, 900)
    answered(window, window.show)
    while window.picture.chart is None:
        settle()
    settle()
    if "--sizes" in sys.argv:
        pictures_at_sizes(window, folder)
        window.close()
        return
    take(window, folder / "light.png")
    if "--readme" in sys.argv:
        window.session.select_finding(0)
        window.corrections.try_selected()
        settle()
        take(window, README_PICTURE)
        window.corrections.end_trial()
    window.choose_theme(Qt.ColorScheme.Dark)
    settle()
    take(window, folder / "dark.png")
    window.choose_theme(Qt.ColorScheme.Light)
    for name, (route, departure, destination) in ROUTES.items():
        route_input = dataclasses.replace(
            window.session.route_input, route=route, departure=departure, destination=destination, departure_runway=""
        )
        answered(window, lambda route_input=route_input: window.session.replace_input(route_input))
        take(window, folder / f"{name}.png")
    more_pictures(window, folder)
    answered(window, window.open_demo)
    for name, (width, height) in {"small": (1000, 700), "large": (3840, 2100)}.items():
        window.resize(width, height)
        settle()
        take(window, folder / f"{name}.png")
    for file in sorted((ROOT / "sample_routes" / "planted").glob("*.toml")):
        window.resize(1200, 760)
        answered(window, lambda file=file: window.open_route(str(file)))
        window.session.step_selection(1)
        settle()
        take(window, folder / f"planted-{file.name.split('.')[0]}.png")
    side_pictures(window, folder)
    window.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
