"""Colours and fonts of the window in light and dark, and how they reach Qt. Hues are Okabe and Ito's; no layout."""

from __future__ import annotations

from dataclasses import KW_ONLY
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QGuiApplication, QPalette

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QApplication, QSplitter


@dataclass(frozen=True, slots=True)
class Theme:
    """One set of colours, as "#rrggbb"."""

    _: KW_ONLY
    dark: bool
    paper: str
    pane: str
    margin: str
    bar: str
    ink: str
    muted: str
    line: str
    land: str
    coast: str
    graticule: str
    route: str
    changed: str
    direct: str
    wrong: str
    doubtful: str
    note: str
    on_wrong: str
    on_doubtful: str
    selected: str

    def weight(self, weight: Weight) -> QColor:
        """The colour of a weight, never its only sign."""
        return QColor({Weight.WRONG: self.wrong, Weight.DOUBTFUL: self.doubtful, Weight.NOTE: self.note}[weight])

    def on_weight(self, weight: Weight) -> QColor:
        """The colour of a number on a badge of that weight."""
        return QColor({Weight.WRONG: self.on_wrong, Weight.DOUBTFUL: self.on_doubtful, Weight.NOTE: self.ink}[weight])


LIGHT = Theme(
    dark=False,
    paper="#fbfaf6",
    pane="#fffffd",
    margin="#f5f2e9",
    bar="#eeecdf",
    ink="#23221f",
    muted="#69665d",
    line="#dad6c8",
    land="#f1eee2",
    coast="#b5b09f",
    graticule="#e7e5dd",
    route="#0072b2",
    changed="#56b4e9",
    direct="#8f8d86",
    wrong="#d55e00",
    doubtful="#e69f00",
    note="#7a8a99",
    on_wrong="#ffffff",
    on_doubtful="#23221f",
    selected="#dcebf5",
)
DARK = Theme(
    dark=True,
    paper="#212429",
    pane="#282c32",
    margin="#1c1f23",
    bar="#181b1e",
    ink="#e9e6dd",
    muted="#a3a7ab",
    line="#3d434a",
    land="#2b2f34",
    coast="#5d646c",
    graticule="#30353b",
    route="#4fb0ea",
    changed="#8fd0f5",
    direct="#7f868d",
    wrong="#ff8a3c",
    doubtful="#f4bd45",
    note="#a2b1bf",
    on_wrong="#23221f",
    on_doubtful="#23221f",
    selected="#2f475a",
)


def current_theme(chosen: Qt.ColorScheme = Qt.ColorScheme.Unknown) -> Theme:
    """The theme of a colour scheme; of Unknown that of the system, light where it has none."""
    scheme = QGuiApplication.styleHints().colorScheme() if chosen == Qt.ColorScheme.Unknown else chosen
    return DARK if scheme == Qt.ColorScheme.Dark else LIGHT


def apply_theme(app: QApplication, theme: Theme) -> None:
    """Give the whole application the colours of a theme; sizes and fonts stay those of the system."""
    app.setPalette(_palette(theme))
    sheet = f"/* for text of {app.font().pointSizeF()} points */{_style_sheet(theme)}"
    if app.styleSheet() != sheet:
        app.setStyleSheet("")  # from one sheet to the next widgets keep the fonts that they had before the first
        app.setStyleSheet(sheet)


@lru_cache(maxsize=256)
def blend_colours(colour: str, ground: str, share: float) -> str:
    """A share of one colour on another, as "#rrggbb"."""
    one, other = QColor(colour), QColor(ground)
    mixed = (round(a * share + b * (1 - share)) for a, b in zip(one.getRgb()[:3], other.getRgb()[:3], strict=True))  # type: ignore[index]
    return QColor(*mixed).name()


@cache
def fixed_font(points_more: float = 0.0) -> QFont:
    """The system's fixed-width font at the system's text size, or larger by some points."""
    font = QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont)
    font.setPointSizeF(QGuiApplication.font().pointSizeF() + points_more)
    return font


@cache
def text_font(points_more: float = 0.0, *, bold: bool = False) -> QFont:
    """The system's font with figures of one width, larger by some points."""
    font = QFont(QGuiApplication.font())
    font.setPointSizeF(font.pointSizeF() + points_more)
    font.setBold(bold)
    font.setFeature(QFont.Tag.fromString("tnum"), 1)
    return font


@cache
def text_scale() -> float:
    """The factor by which badges and symbols grow with the system's text size."""
    return max(1.0, QFontMetricsF(text_font()).height() / 15.0)


def follow_font(dress: Callable[[], None]) -> None:
    """Dress the application anew when the system's font is another one, as soon as the widgets have it."""
    app = QGuiApplication.instance()
    if isinstance(app, QGuiApplication):
        app.fontChanged.connect(dress, Qt.ConnectionType.QueuedConnection)


def clear_font_cache() -> None:
    """Ask the system for its text size again."""
    for kept in (fixed_font, text_font, text_scale):
        kept.cache_clear()


def _palette(theme: Theme) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, theme.paper),
        (role.Base, theme.pane),
        (role.AlternateBase, theme.margin),
        (role.Button, theme.pane),
        (role.ToolTipBase, theme.pane),
        (role.Highlight, theme.route),
        (role.HighlightedText, "#ffffff" if not theme.dark else "#101214"),
        (role.PlaceholderText, theme.muted),
        (role.Link, theme.route),
        (role.Mid, theme.line),
    ):
        palette.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText, role.ToolTipText):
        palette.setColor(which, QColor(theme.ink))
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(theme.muted))
    return palette


def _style_sheet(theme: Theme) -> str:
    return f"""
    QMainWindow, QDialog {{ background: {theme.paper}; }}
    QMenuBar {{ background: {theme.bar}; border-bottom: 1px solid {theme.line}; padding: 2px 6px; }}
    QMenuBar::item {{ padding: 4px 9px; background: transparent; border-radius: 3px; }}
    QMenuBar::item:selected {{ background: {theme.selected}; color: {theme.ink}; }}
    #names {{ background: {theme.pane}; border: 1px solid {theme.line}; }}
    QToolTip {{ background: {theme.pane}; color: {theme.ink}; border: 1px solid {theme.line}; padding: 4px; }}
    #strip QLineEdit, #strip QComboBox, #load QLineEdit, #load QComboBox {{
        background: {theme.pane}; border: 1px solid {theme.line}; border-radius: 4px;
        padding: 3px 6px; }}
    #strip QLineEdit:focus, #strip QComboBox:focus, #load QLineEdit:focus, #load QComboBox:focus {{
        border: 1px solid {theme.route}; }}
    #load QLineEdit {{ padding: 1px 6px; }}
    #load QScrollArea, #load QScrollArea > QWidget > QWidget {{ background: {theme.paper}; }}
    #strip QLineEdit[unread="true"], #load QLineEdit[unread="true"] {{ border: 1px solid {theme.wrong}; }}
    #strip QLabel[unread="true"] {{ color: {theme.ink}; font-weight: bold; }}
    #strip QComboBox::drop-down, #load QComboBox::drop-down {{ border: none; width: 18px; }}
    #strip QLabel, #muted {{ color: {theme.muted}; }}
    #sheet {{ background: {theme.pane}; border: 1px solid {theme.line}; border-radius: 5px; }}
    #sheet:focus-within {{ border: 1px solid {theme.route}; }}
    #routeText {{ background: transparent; border: none; }}
    #margin {{ background: {theme.margin}; border-left: 1px solid {theme.line}; }}
    #margin QListView, #margin QTextBrowser {{ background: transparent; border: none; }}
    #margin QToolButton, #side QToolButton, #legs QToolButton, #load QToolButton {{
        background: transparent; border: none; color: {theme.muted}; padding: 3px 2px; }}
    #margin QToolButton:hover, #margin QToolButton:focus, #side QToolButton:hover, #side QToolButton:focus,
    #legs QToolButton:hover, #legs QToolButton:focus, #load QToolButton:hover, #load QToolButton:focus {{
        color: {theme.route}; }}
    #margin QToolButton:disabled {{ color: {theme.line}; }}
    #margin QPushButton {{ background: {theme.pane}; color: {theme.ink}; border: 1px solid {theme.line};
        border-radius: 4px; padding: 3px 9px; }}
    #margin QPushButton:hover, #margin QPushButton:focus {{ border: 1px solid {theme.route}; color: {theme.route}; }}
    #margin QPushButton:checked {{ background: {theme.selected}; border: 1px solid {theme.route}; font-weight: bold; }}
    #notice {{ background: {theme.pane}; border: 1px solid {theme.changed}; border-radius: 5px; }}
    #legs QTableView {{ background: {theme.paper}; border: none; border-top: 1px solid {theme.line}; }}
    #legs QTableView:focus {{ border-top: 1px solid {theme.route}; }}
    #legs QAbstractScrollArea::corner {{ background: {theme.paper}; border: none; }}
    #legs QHeaderView {{ background: {theme.paper}; border: none; }}
    #legs QHeaderView::section {{ background: {theme.paper}; color: {theme.muted}; border: none; padding: 2px 4px; }}
    #foot {{ background: {theme.bar}; border-top: 1px solid {theme.line}; }}
    #caution {{ font-weight: bold; }}
    #link {{ color: {theme.route}; background: transparent; border: none; padding: 0; text-align: right; }}
    #link:hover, #link:focus {{ text-decoration: underline; }}
    {_style_scroll_bars(theme)}
    QSplitter::handle {{ background: transparent; }}
    """


def _style_scroll_bars(theme: Theme) -> str:
    return f"""
    QScrollBar:vertical {{ background: transparent; border: none; width: 10px; margin: 0; }}
    QScrollBar::handle:vertical {{ background: {theme.line}; border-radius: 3px; min-height: 24px; margin: 2px; }}
    QScrollBar::handle:vertical:hover {{ background: {theme.muted}; }}
    QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page {{ background: none;
        border: none; height: 0; }}
    QScrollBar:horizontal {{ background: transparent; border: none; height: 10px; margin: 0; }}
    QScrollBar::handle:horizontal {{ background: {theme.line}; border-radius: 3px; min-width: 24px; margin: 2px; }}
    QScrollBar::handle:horizontal:hover {{ background: {theme.muted}; }}
    QScrollBar::add-line:horizontal, QScrollBar::sub-line:horizontal {{ width: 0; }}
    """


def encode_state(part: QSplitter) -> str:
    """The state of a splitter in base 64, as it is saved."""
    return bytes(part.saveState().toBase64().data()).decode("ascii")


def decode_window_state(state: object) -> QByteArray:
    """A window state that was saved as base 64, as Qt restores it; nothing where it is no text."""
    if not isinstance(state, str):
        return QByteArray()
    return QByteArray.fromBase64(QByteArray(state.encode("ascii", "ignore")))
