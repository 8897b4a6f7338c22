"""Work beside the window, on a thread of its own that can be abandoned: nothing ends one that waits for a file."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable


class SideJob:
    """One piece of work. What it brings or reports is dropped once it is abandoned."""

    def __init__(self, name: str, end: Callable[[Any], None]) -> None:
        self._end = end
        self._lock = threading.Lock()
        self._is_abandoned = False
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)

    def work(self) -> None:
        """Do the work and keep what comes of it. Runs on the thread; must not raise."""
        raise NotImplementedError

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def abandon(self) -> None:
        """Take nothing more from it."""
        with self._lock:
            self._is_abandoned = True

    def wait(self, seconds: float) -> None:
        """Wait until the thread has ended, but no longer than so many seconds."""
        self._thread.join(seconds)

    def tell(self, report: Callable[[], None]) -> bool:
        """Report something from the thread, unless the job is abandoned; gives whether it is wanted."""
        with self._lock:
            if not self._is_abandoned:
                report()
            return not self._is_abandoned

    def _run(self) -> None:
        self.work()
        self.tell(lambda: self._end(self))
