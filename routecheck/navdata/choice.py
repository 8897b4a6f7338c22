"""Which navigation data a run uses: a value that another process, or another machine, can load the same data by."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from routecheck import files
from routecheck.frozen_dataclass import dataclass
from routecheck.navdata import store
from routecheck.navdata.database import demo_database, load_navdata

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.navdata.database import NavDatabase


@dataclass(frozen=True, slots=True)
class DataChoice:
    """Files for this run; without any what was added for good; the demo region where nothing was.

    Asked for, the demo region comes beside the files, or alone.
    """

    files: tuple[str, ...] = ()
    demo: bool = False

    def load(self, *, progress: Callable[[float], None] | None = None) -> NavDatabase:
        """Load it. `progress` gets the share done while files are read or stored data is compiled. Raises DataError."""
        if self.files:
            return load_navdata(self.files, progress=progress, with_demo=self.demo)
        if self.demo:
            return demo_database()
        return store.open_store(progress=progress) or demo_database()

    def pack(self) -> PackedData:
        """Read the files as they are, for a machine that has not got them. Raises DataError or OSError."""
        if self.files:
            return PackedData(tuple((Path(name).name, files.read_bytes(Path(name))) for name in self.files), self.demo)
        stored = () if self.demo else store.stored_files()
        return PackedData(tuple((file.name, files.read_bytes(file.copy)) for file in stored), self.demo or not stored)


@dataclass(frozen=True, slots=True)
class PackedData:
    """The files of a choice, each by name and content."""

    files: tuple[tuple[str, bytes], ...]
    demo: bool

    def load(self) -> NavDatabase:
        """Load it. Raises DataError."""
        with TemporaryDirectory() as folder:
            return load_navdata(list(self._unpack(Path(folder))), with_demo=self.demo)

    def _unpack(self, folder: Path) -> Iterator[Path]:
        """Write each file into a folder of its own, under its own name: the data source bears it."""
        for number, (name, content) in enumerate(self.files):
            path = folder / str(number) / name
            path.parent.mkdir()
            path.write_bytes(content)
            yield path
