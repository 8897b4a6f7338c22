"""The known routes in use: those that are kept, opened at the start; adding lists of routes, and removing them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from routecheck.known.folder import list_files
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Sequence

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.known.jobs import KeepingJob, ReadingJob
    from routecheck.gui.known.window import KnownRoutesWindow
    from routecheck.gui.session import Session
    from routecheck.known.intake import Intake


class KnownInUse(QObject):
    """Opens, adds and removes collections. Without any nothing of known routes is imported at the start."""

    changed = Signal()
    """Other collections are in use, or an attempt to add some has ended."""
    _reported = Signal(object, float)
    _read = Signal(object)
    _ended = Signal(object)

    def __init__(self, session: Session, parent: QWidget, today: Callable[[], dt.date]) -> None:
        super().__init__(parent)
        self._session, self._parent, self._today = session, parent, today
        self._job: ReadingJob | KeepingJob | None = None
        self._intakes: Sequence[Intake] = ()
        self._reading_fault = ""
        self.window: KnownRoutesWindow | None = None
        self._reported.connect(self._show_share)
        self._read.connect(self._take_intakes)
        self._ended.connect(self._take_end)
        if list_files():
            self._use_kept()

    def show_window(self) -> KnownRoutesWindow:
        """Show the collections in use."""
        from routecheck.gui.known.window import KnownRoutesWindow

        if self.window is None:
            self.window = KnownRoutesWindow(self._parent)
            self.window.add_wanted.connect(self._ask_for_files)
            self.window.remove_wanted.connect(self.remove)
            self.window.stop_wanted.connect(self.stop)
            self.window.kept.connect(self.keep)
        self.window.show_known(self._session.known)
        self.window.show()
        return self.window

    def add_files(self, paths: Sequence[str]) -> None:
        """Read and check lists of routes beside the window, then keep them."""
        from routecheck.gui.known.jobs import ReadingJob, make_judge

        database = self._session.database
        if database is None or self._job is not None:
            return
        judge = make_judge(database, self._session.settings, self._today())
        self._job = ReadingJob(paths, judge, database, self._today(), report=self._reported.emit, end=self._read.emit)
        self._tell("", 0.0)
        self._job.start()

    def keep(self, with_wrong: bool) -> None:
        """Keep what was read, with or without the rows of which something is Wrong."""
        from routecheck.gui.known.jobs import KeepingJob

        intakes = [intake if with_wrong else intake.without_wrong() for intake in self._intakes]
        self._intakes = ()
        if self.window:
            self.window.ask_about_wrong(())
            self.window.note_uncounted(intakes)
        self._job = KeepingJob(intakes, self._today().isoformat(), self._ended.emit)
        self._tell("", 0.999)
        self._job.start()

    def stop(self) -> None:
        """Give up what is being read; what is kept stays."""
        if self._job is not None:
            self._job.abandon()
            self._job = None
            self._tell("Stopped. The known routes are as before.", 1.0)

    def remove(self, name: str) -> None:
        """Take a collection out."""
        from routecheck.known import store

        try:
            store.remove_collection(name)
        except (DataError, UsageError) as trouble:
            self._tell(str(trouble), 1.0)
            return
        self._tell("", 1.0)
        self._use_kept()

    def _ask_for_files(self) -> None:
        from routecheck.gui import dialogs

        if paths := dialogs.files_to_open(self._parent, "Add known routes"):
            self.add_files(paths)

    def _use_kept(self) -> None:
        from routecheck.known.store import open_store

        known = open_store()
        self._session.use_known(known)
        if known and known.unusable:
            unusable = ". ".join(f"{one[:1].upper()}{one[1:]}" for one in known.unusable)
            QTimer.singleShot(0, self, lambda: self._session.data_failed.emit(f"{unusable}."))
        if self.window:
            self.window.show_known(self._session.known)
        self.changed.emit()

    def _tell(self, message: str, share: float) -> None:
        if self.window:
            self.window.show_message(message)
            self.window.show_progress(share)

    @Slot(object, float)
    def _show_share(self, job: ReadingJob, share: float) -> None:
        if job is self._job and self.window:
            self.window.show_progress(share)

    @Slot(object)
    def _take_intakes(self, job: ReadingJob) -> None:
        if job is not self._job:
            return
        self._job = None
        self._tell(job.fault, 1.0)
        if not job.intakes:
            self.changed.emit()
            return
        self._intakes, self._reading_fault = job.intakes, job.fault
        if self.window and any(intake.wrong for intake in job.intakes):
            self.window.ask_about_wrong(job.intakes)
        else:
            self.keep(with_wrong=True)

    @Slot(object)
    def _take_end(self, job: KeepingJob) -> None:
        if job is not self._job:
            return
        self._job = None
        self._use_kept()
        self._tell(" ".join(filter(None, (self._reading_fault, job.fault))), 1.0)
