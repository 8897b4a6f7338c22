"""A made-up second form of navigation data, one JSON object a line: its reader, and what writes it. No tests here.

It has the records in another order than the ARINC 424 file, refers to places by numbers, and keeps the procedures of an
airport as JSON that is decoded when it is asked for. Nothing here knows a column or a code of ARINC 424.
"""

import dataclasses
import datetime as dt
import json
from collections.abc import Callable, Iterator
from typing import Any

from routecheck.model import (
    AirwaySegment,
    AltitudeLimits,
    CodedBranch,
    CodedLeg,
    CodedProcedure,
    DataSource,
    LegType,
    Part,
    Place,
    PlaceKind,
    Runway,
    SpeedLimit,
)
from routecheck.navdata.archives import Member
from routecheck.navdata.data_reader import NothingUsableError, TerminalFixes
from routecheck.navdata.database import NavDatabase
from routecheck.navdata.tables import PlaceRef, ProcedureBlock, Records, SegmentRecord, Tables, ref_of

HEAD = '{"form":"lines of a made-up form"'
_PLACES = ("fix", "navaid", "centre")
Values = dict[str, Any]


class LineReader:
    """A DataReader."""

    name = "lines"
    form = "lines of a made-up form"

    def sniff(self, head: bytes) -> bool:
        return head.startswith(HEAD.encode())

    def read(self, text: Member, source: str, progress: Callable[[float], None]) -> Tables:
        lines: list[str] = []
        for block, share in text.blocks:
            lines += block
            progress(share)
        values = [json.loads(line) for line in lines if line]
        if len(values) < 2:
            raise NothingUsableError("it has no records")
        tables = Tables(source=_source(values[0], source))
        for one in values[1:]:
            _READ[one.pop("record")](tables, one)
        return tables

    def procedures(self, airport: str, block: bytes, records: Records) -> "LineProcedures":
        return LineProcedures(airport, json.loads(block), records)


class LineProcedures:
    """An AirportProcedures."""

    def __init__(self, airport: str, values: Values, records: Records) -> None:
        self._airport, self._values, self._records = airport, values, records

    def branches(self, kind: str, name: str) -> tuple[CodedBranch, ...]:
        return tuple(
            CodedBranch(
                Part(part), ident, tuple(_leg(self._airport, values, self._records) for values in legs), runway=runway
            )
            for part, ident, runway, legs in self._values[f"{kind} {name}"]
        )

    def terminal_fixes(self) -> TerminalFixes:
        feeders: set[str] = set()
        others: set[str] = set()
        for key, branches in self._values.items():
            for part, ident, _, legs in branches:
                others |= {leg["fix_ident"] for leg in legs if not leg["missed"]}
                if key.startswith("APPROACH ") and part == Part.TRANSITION:
                    feeders.add(ident)
        return TerminalFixes(frozenset(feeders - {""}), frozenset((feeders | others) - {""}))


# Reading


def _source(values: Values, name: str) -> DataSource:
    first = dt.date.fromisoformat(values["effective"])
    return DataSource(
        name,
        cycle=values["cycle"],
        effective=first,
        until=first + dt.timedelta(days=28),
        counts=tuple((what, number) for what, number in values["counts"]),
        records=values["records"],
        announced=values["announced"],
        invented=values["invented"],
        has_directions=values["one_way_given"],
    )


def _place(values: Values, source: str) -> Place:
    return Place(**{**values, "kind": PlaceKind(values["kind"]), "source": source})


def _read_place(tables: Tables, values: Values) -> None:
    place = _place(values, tables.source.name)
    if place.kind is PlaceKind.AIRPORT:
        tables.airports[place.ident] = place
    else:
        tables.places[ref_of(place)] = place


def _read_runway(tables: Tables, values: Values) -> None:
    runway = Runway(**values["values"])
    tables.runways.setdefault(values["airport"], {})[runway.ident] = runway


def _read_segment(tables: Tables, values: Values) -> None:
    start, end = (_ref(values[which]) for which in ("from", "to"))
    record = SegmentRecord(start, end, values["level"], values["ends"], AirwaySegment(**values["figures"]))
    tables.airways.setdefault((values["airway"], values["area"]), []).append(record)


def _read_procedures(tables: Tables, values: Values) -> None:
    airport = values["airport"]
    tables.procedures[airport] = {(kind, name): set(transitions) for kind, name, transitions in values["names"]}
    tables.blocks[airport] = ProcedureBlock(LineReader.name, json.dumps(values["coded"]).encode())


def _read_minimum(tables: Tables, values: Values) -> None:
    tables.mora[values["south"], values["west"]] = values["feet"]


_READ: dict[str, Callable[[Tables, Values], None]] = {
    "place": _read_place,
    "runway": _read_runway,
    "segment": _read_segment,
    "procedures": _read_procedures,
    "minimum": _read_minimum,
}


def _ref(values: list[str]) -> PlaceRef:
    sort, airport, ident, region = values
    return sort, airport, ident, region


def _leg(airport: str, values: Values, records: Records) -> CodedLeg:
    places = {which: _find(airport, values[which], records) for which in _PLACES}
    window, speed = values["window"], values["speed"]
    return CodedLeg(
        **{
            **values,
            **places,
            "type": values["type"] and LegType(values["type"]),
            "window": window and AltitudeLimits(**window),
            "speed": speed and SpeedLimit(**speed),
        }
    )


def _find(airport: str, values: Values | None, records: Records) -> Place | None:
    """A place that a leg refers to: of the data by reference, an airport, a runway, or one that only legs have."""
    if values is None:
        return None
    if "ref" in values:
        return records.places[_ref(values["ref"])]
    if "runway" in values:
        return records.runways[airport][values["runway"]].threshold(airport)
    return records.airports[values["airport"]] if "airport" in values else _place(values["place"], "")


# Writing


def write_lines(database: NavDatabase) -> str:
    """All that a database of one source holds, in the made-up form."""
    (source,) = database.sources
    head = {
        "form": LineReader.form,
        "cycle": source.cycle,
        "effective": str(source.effective),
        "counts": source.counts,
        "records": source.records,
        "announced": source.announced,
        "invented": source.invented,
        "one_way_given": source.has_directions,
    }
    return "\n".join(json.dumps(values, separators=(",", ":")) for values in (head, *_records(database.records)))


def _records(records: Records) -> Iterator[Values]:
    for (south, west), feet in records.mora.items():
        yield {"record": "minimum", "south": south, "west": west, "feet": feet}
    for airport in reversed([*records.blocks]):
        yield _procedures(airport, records)
    for (airway, area), segments in records.airways.items():
        for start, end, level, ends, figures in segments:
            more = {"level": level, "ends": ends, "figures": dataclasses.asdict(figures)}
            yield {"record": "segment", "airway": airway, "area": area, "from": start, "to": end, **more}
    for airport, runways in records.runways.items():
        for runway in runways.values():
            yield {"record": "runway", "airport": airport, "values": dataclasses.asdict(runway)}
    for place in (*records.airports.values(), *records.places.values()):
        yield {"record": "place", **_place_values(place)}


def _procedures(airport: str, records: Records) -> Values:
    database = NavDatabase(records, ())
    found = [database.procedure(airport, kind, name) for kind, name in records.procedures[airport]]
    coded = {f"{one.kind} {one.name}": _branches(one, records) for one in found if one}
    names = [[kind, name, sorted(idents)] for (kind, name), idents in records.procedures[airport].items()]
    return {"record": "procedures", "airport": airport, "names": names, "coded": coded}


def _branches(procedure: CodedProcedure, records: Records) -> list[object]:
    return [
        [branch.part, branch.ident, branch.runway, [_leg_values(leg, records) for leg in branch.legs]]
        for branch in procedure.branches
    ]


def _leg_values(leg: CodedLeg, records: Records) -> Values:
    places = {which: _reference(getattr(leg, which), records) for which in _PLACES}
    return {**dataclasses.asdict(leg), **places}


def _reference(place: Place | None, records: Records) -> Values | None:
    if place is None:
        return None
    if place.kind is PlaceKind.RUNWAY:
        return {"runway": place.ident.removeprefix("RW")}
    if place.kind is PlaceKind.AIRPORT:
        return {"airport": place.ident}
    if place.kind is not PlaceKind.LOCALIZER and ref_of(place) in records.places:
        return {"ref": ref_of(place)}
    return {"place": _place_values(place)}


def _place_values(place: Place) -> Values:
    values = dataclasses.asdict(place)
    del values["source"]
    return values
