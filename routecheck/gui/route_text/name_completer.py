"""The list of names under a word that is being typed. Which names there are is not decided here.

It is no window that takes the keyboard: all keys go on to the text, so that nothing typed is lost and every shortcut
works. It takes Up and Down, Esc, and Enter and Tab once a row was chosen.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractListModel, QCoreApplication, QEvent, QModelIndex, QObject, QSize, Qt
from PySide6.QtGui import QFontMetrics, QKeyEvent, QTextCursor
from PySide6.QtWidgets import QCompleter, QListView

from routecheck.gui.theme import fixed_font
from routecheck.gui.widgets.utf16_offsets import from_qt, to_qt

if TYPE_CHECKING:
    from PySide6.QtCore import QPersistentModelIndex

    from routecheck.gui.route_text.editor import RouteText
    from routecheck.gui.session import Session
    from routecheck.model import Span
    from routecheck.presentation.name_completion import NameOffer

_MOST_ROWS = 8
_ROOM, _LINE = 12, 1.4
_MOVES = frozenset({Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown})
_TAKES = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab})
_ENDS = frozenset({QEvent.Type.FocusOut, QEvent.Type.Hide, QEvent.Type.Move, QEvent.Type.Resize})
"""What closes the list: the text loses the keyboard, or the window moves away from under it."""


class _OfferModel(QAbstractListModel):
    """The names offered: shown with what and where they are, in columns; taken by the name alone."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.offers: tuple[NameOffer, ...] = ()
        self._widths, self._size = (0, 0), QSize()

    def show_offers(self, offers: tuple[NameOffer, ...]) -> None:
        """Offer other names."""
        self.beginResetModel()
        self.offers = offers
        self._widths = max(len(one.name) for one in offers), max(len(one.kind) for one in offers)
        metrics, columns = QFontMetrics(fixed_font()), sum(self._widths) + max(len(one.where) for one in offers) + 4
        self._size = QSize(metrics.horizontalAdvance("0") * columns + _ROOM, int(metrics.height() * _LINE))
        self.endResetModel()

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex | None = None) -> int:  # noqa: N802
        """How many names are offered."""
        return 0 if parent is not None and parent.isValid() else len(self.offers)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """A row in columns and its size; for a screen reader with commas; the name to be taken."""
        offer, (name, kind) = self.offers[index.row()], self._widths
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{offer.name:{name}}  {offer.kind:{kind}}  {offer.where}".rstrip()
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return ", ".join(filter(None, (offer.name, offer.kind, offer.where)))
        if role == Qt.ItemDataRole.SizeHintRole:
            return self._size
        return offer.name if role == Qt.ItemDataRole.EditRole else None


class NameCompleter(QObject):
    """Offers names while a word is typed by key, and writes the one that is chosen in its place."""

    def __init__(self, editor: RouteText, session: Session) -> None:
        super().__init__(editor)
        self._editor, self._session = editor, session
        self.model = _OfferModel(self)
        self._is_key_typed = False
        self._word: Span | None = None
        editor.installEventFilter(self)
        editor.typed.connect(self._follow_text)
        editor.cursorPositionChanged.connect(self._follow_cursor)

    @cached_property
    def view(self) -> QListView:
        """The list; made when it is first wanted."""
        view = QListView()
        view.setObjectName("names")
        view.setAccessibleName("Names that begin so")
        view.setUniformItemSizes(True)
        view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        view.setFont(fixed_font())
        self._completer.setPopup(view)
        # Qt would make it a window of its own that takes every key, those of the menus too.
        view.setWindowFlags(Qt.WindowType.ToolTip | Qt.WindowType.FramelessWindowHint)
        self._editor.installEventFilter(self)  # anew, to come before Qt's, which conceals that the focus goes
        return view

    @cached_property
    def _completer(self) -> QCompleter:
        completer = QCompleter(self.model, self)
        completer.setWidget(self._editor)
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setMaxVisibleItems(_MOST_ROWS)
        completer.activated.connect(self._write_name)
        return completer

    @property
    def is_open(self) -> bool:
        """Whether names are offered."""
        return "view" in self.__dict__ and self.view.isVisible()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        if "view" in self.__dict__:
            self.view.setFont(fixed_font())

    def close(self) -> None:
        """Offer nothing."""
        if self.is_open:
            self.view.hide()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Take the few keys that are meant for the list, before the text and the window do."""
        if event.type() in _ENDS:
            self.close()
        elif watched is self._editor and event.type() == QEvent.Type.InputMethod:
            self._is_key_typed = True
        elif watched is self._editor and isinstance(event, QKeyEvent):
            return self._take_key(event)
        return False

    def _take_key(self, event: QKeyEvent) -> bool:
        is_for_list = self.is_open and self._is_for_list(event)
        if event.type() == QEvent.Type.ShortcutOverride and is_for_list:
            event.accept()
        elif event.type() == QEvent.Type.KeyPress and is_for_list:
            self._move_or_choose(event)
        elif event.type() == QEvent.Type.KeyPress:
            self._is_key_typed = event.text().isalnum() or (self.is_open and event.key() == Qt.Key.Key_Backspace)
            return False
        return is_for_list

    def _is_for_list(self, event: QKeyEvent) -> bool:
        plain = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier == Qt.KeyboardModifier.NoModifier
        is_choice = event.key() in _TAKES and self.view.currentIndex().isValid()
        return plain and (event.key() in _MOVES or event.key() == Qt.Key.Key_Escape or is_choice)

    def _move_or_choose(self, event: QKeyEvent) -> None:
        if event.key() in _MOVES:
            QCoreApplication.sendEvent(self.view, event)
            return
        row = self.view.currentIndex().row()
        self.close()
        if event.key() in _TAKES:
            self._write_name(self.model.offers[row].name)

    def _write_name(self, name: str) -> None:
        """Write a name in place of the word, in one step for undo."""
        if self._word is not None:
            self._editor.replace_stretch(self._word, name)

    def _follow_text(self, text: str) -> None:
        """Offer names for a word that was typed by key; what is pasted, undone or corrected offers none."""
        is_key_typed, self._is_key_typed = self._is_key_typed, False
        if not is_key_typed or self._session.database is None:
            self.close()
            return
        from routecheck.presentation.name_completion import offer_names, typed_word

        at = from_qt(text, self._editor.textCursor().position())
        answer = self._session.answer
        self._word = typed_word(text, at)
        self._show(offer_names(text, at, self._session.database, answer.assessment.route if answer else None), text)

    def _show(self, offers: tuple[NameOffer, ...], text: str) -> None:
        if not offers or self._word is None:
            self.close()
            return
        self.model.show_offers(offers)
        cursor = QTextCursor(self._editor.document())
        cursor.setPosition(to_qt(text, self._word.start))
        under = self._editor.cursorRect(cursor)
        bar = self.view.verticalScrollBar().sizeHint().width()
        under.setWidth(self.view.sizeHintForColumn(0) + 2 * self.view.frameWidth() + bar)
        self._editor.window().installEventFilter(self)
        self._completer.complete(under)
        self.view.setCurrentIndex(QModelIndex())  # Qt chooses the first row, which nobody did

    def _follow_cursor(self) -> None:
        """Offer nothing once the cursor leaves the word."""
        cursor = self._editor.textCursor()
        at = from_qt(self._editor.toPlainText(), cursor.position())
        if self.is_open and (cursor.hasSelection() or self._word is None or at <= self._word.start):
            self.close()
