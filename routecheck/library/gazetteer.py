"""Names to places, airways, procedures, runways and minima. Questions only: how the data is kept does not show here."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import os
    from collections.abc import Callable, Collection, Iterable, Iterator

    from routecheck.model import Airway, DataSource, Place, Runway


class Library:
    """Loaded navigation data, asked by name or by position. Positions in degrees, north and east positive."""

    @property
    def sources(self) -> tuple[DataSource, ...]:
        """The files the data came from, newest cycle first; () where nothing is loaded."""
        raise NotImplementedError

    def places(self, ident: str) -> tuple[Place, ...]:
        """Every fix, terminal fix and navaid of that ident (no airports), always in the same order; () if none.

        What stands at the same spot (within 0.1 NM) under the same name and of the same sort appears once.
        """
        raise NotImplementedError

    def airport(self, ident: str) -> Place | None:
        """The airport by ICAO code or FAA location identifier, loaded data first, then the world list; else None."""
        raise NotImplementedError

    def airways(self, designator: str) -> tuple[Airway, ...]:
        """The continuous pieces of an airway, in the order of (area, sequence); () if the data has none."""
        raise NotImplementedError

    def procedure_kinds(self, airport: str, name: str) -> frozenset[str]:
        """What that name is at that airport: "SID", "STAR", both, or nothing."""
        raise NotImplementedError

    def procedure_airports(self, name: str) -> frozenset[str]:
        """Every airport that has a SID or STAR of that name."""
        raise NotImplementedError

    def procedure_names(self, airport: str, kind: str) -> tuple[str, ...]:
        """The names of an airport's procedures of one kind ("SID" or "STAR"), sorted."""
        raise NotImplementedError

    def transitions(self, airport: str, name: str) -> frozenset[str]:
        """The enroute transitions of a procedure (no runway branches)."""
        raise NotImplementedError

    def runways(self, airport: str) -> tuple[Runway, ...]:
        """The runways of a loaded airport, by ident; () where none are loaded."""
        raise NotImplementedError

    def covers(self, lat: float, lon: float) -> bool:
        """Whether the loaded data has an enroute fix, navaid or airport in the neighbourhood."""
        raise NotImplementedError

    def mora_ft(self, lat: float, lon: float) -> float | None:
        """The grid minimum off-route altitude there, feet; None where the data has none or says unknown."""
        raise NotImplementedError

    def near(self, lat: float, lon: float, radius_nm: float) -> Iterator[Place]:
        """Every loaded place (airports too) within a radius, on the sphere (0.6 %), in no order worth using."""
        raise NotImplementedError

    def names(self) -> Collection[str]:
        """Every ident that `places` answers to."""
        raise NotImplementedError


def load(paths: Iterable[str | os.PathLike[str]], *, progress: Callable[[float], None] | None = None) -> Library:
    """Read files of navigation data (plain, .gz, .xz, .zip). Raises DataError, and UsageError for a missing file.

    `progress` is told the share done, 0 to 1; it may raise to stop the reading.
    """
    raise NotImplementedError


def empty() -> Library:
    """No navigation data: airports of the world list only."""
    raise NotImplementedError


def demo() -> Library:
    """The invented demo region that comes with the program."""
    raise NotImplementedError
