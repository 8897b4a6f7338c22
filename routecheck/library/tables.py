"""The records of one file sorted into dicts, in memory. No reading of files and no answering of questions here."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import DataSource

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Place, Runway

Key = tuple[str, str, str, str]
"""(section, airport, ident, region) as the columns have them: the region unstripped, since `K ` and `P ` occur."""


class AirwayRow(NamedTuple):
    """One record of an airway. Outbound figures lead to the next record's fix, `inbound_deg` arrives at this one."""

    sequence: int
    fix: Key
    ends: bool
    level: str
    outbound_deg: float | None
    distance_nm: float | None
    inbound_deg: float | None
    minimum_ft: float | None
    minimum_back_ft: float | None
    maximum_ft: float | None
    one_way: str
    line: int


@dataclass(slots=True)
class Tables:
    """What one data source holds.

    `airways` by (designator, area), `procedures[airport][kind, name]` the idents of its enroute transitions, `mora`
    in feet by the south-west corner of the degree.
    """

    source: DataSource = field(default_factory=lambda: DataSource("", "", None, None, {}))
    places: dict[Key, Place] = field(default_factory=dict)
    airports: dict[str, Place] = field(default_factory=dict)
    runways: dict[str, dict[str, Runway]] = field(default_factory=dict)
    airways: dict[tuple[str, str], list[AirwayRow]] = field(default_factory=dict)
    procedures: dict[str, dict[tuple[str, str], set[str]]] = field(default_factory=dict)
    mora: dict[tuple[int, int], float] = field(default_factory=dict)


def merged(tables: Sequence[Tables]) -> Tables:
    """All in one, later ones before earlier ones; one alone is given back as it is."""
    if len(tables) == 1:
        return tables[0]
    together = Tables()
    for one in tables:
        together.places.update(one.places)
        together.airports.update(one.airports)
        together.runways.update(one.runways)
        together.airways.update(one.airways)
        together.procedures.update(one.procedures)
        together.mora.update(one.mora)
    return together
