"""Which navigation data a run uses: a value that another process can load the same data by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.navdata import store
from routecheck.navdata.database import demo_database, load_navdata

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.navdata.database import NavDatabase


@dataclass(frozen=True, slots=True)
class DataChoice:
    """Files for this run; without any what was added for good; the demo region where nothing was.

    Asked for, the demo region comes beside the files, or alone.
    """

    files: tuple[str, ...] = ()
    demo: bool = False

    def load(self, *, progress: Callable[[float], None] | None = None) -> NavDatabase:
        """Load it. `progress` gets the share done while stored data is compiled. Raises DataError."""
        if self.files:
            return load_navdata(self.files, with_demo=self.demo)
        if self.demo:
            return demo_database()
        return store.open_store(progress=progress) or demo_database()
