"""What each kind of ARINC 424-18 record holds, column by column. Sorting out lines and files is done in `reader`.

Column numbers in comments are those of the standard, from 1. They were checked on the U.S. file, cycle 2301.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from routecheck.model import Place, PlaceKind, Runway
from routecheck.navdata.arinc424.airways import AirwayRow
from routecheck.navdata.arinc424.fields import (
    BadFieldError,
    parse_altitude,
    parse_ident,
    parse_magnetic,
    parse_name,
    parse_position,
    parse_tenths,
    parse_variation,
    parse_whole,
)
from routecheck.navdata.tables import SORTS, PlaceRef, Tables, ref_of

if TYPE_CHECKING:
    from collections.abc import Callable

_TRANSITIONS = {"D": frozenset("36V"), "E": frozenset("14")}
"""Route types (20) of enroute transitions, by subsection; the others are runway branches and the common part."""
_KINDS = {"D": "SID", "E": "STAR", "F": "APPROACH"}
_SORTS = {
    "EA": SORTS[PlaceKind.FIX],
    "PC": SORTS[PlaceKind.TERMINAL_FIX],
    "D ": SORTS[PlaceKind.VOR],
    "DB": SORTS[PlaceKind.NDB],
    "PN": SORTS[PlaceKind.NDB],
}
"""Sections of fixes and navaids that other records refer to."""
_OF_AN_AIRPORT = frozenset({"PC", "PN"})
_NO_AIRPORT = "-"
"""An airway does not say of which airport a terminal fix is: none is taken for it."""


@dataclass
class Collected:
    """The records of a text: what is in tables already, and what is put together when all were read."""

    tables: Tables = field(default_factory=Tables)
    airways: dict[tuple[str, str], list[AirwayRow]] = field(default_factory=dict)
    """By (designator, area)."""
    coded: dict[str, list[str]] = field(default_factory=dict)
    """By airport: its records of coded legs and landing aids, from column 13 on."""


def reference(section: str, airport: str, ident: str, region: str) -> PlaceRef:
    """The fix or navaid that a record refers to by section, ident and region; in other sections nothing is found."""
    return _SORTS.get(section, section), airport if section in _OF_AN_AIRPORT else "", ident, region.strip()


def read_enroute_fix(line: str, collected: Collected, _number: int) -> None:
    """EA."""
    _add_fix(line, collected, PlaceKind.FIX, "")


def read_terminal_fix(line: str, collected: Collected, _number: int) -> None:
    """PC, and HC of a heliport: as EA, plus its airport (7–10)."""
    _add_fix(line, collected, PlaceKind.TERMINAL_FIX, parse_ident(line[6:10], "airport"))


def _add_fix(line: str, collected: Collected, kind: PlaceKind, airport: str) -> None:
    lat, lon = parse_position(line[32:51])  # 33–51
    fix = parse_ident(line[13:18], "ident")  # 14–18
    place = Place(
        ident=fix,
        lat=lat,
        lon=lon,
        kind=kind,
        region=line[19:21].strip(),  # 20–21
        airport=airport,
        name=parse_name(line[98:123]),  # 99–123
        variation_deg=parse_variation(line[74:79]),  # 75–79
        source=collected.tables.source.name,
        rnav=line[26:27] == "W",  # 27
    )
    _add(collected, place)


def read_vhf_navaid(line: str, collected: Collected, _number: int) -> None:
    """D: at its VOR, or where there is none at its DME. One of a localizer serves only procedures of its airport."""
    station = parse_ident(line[13:17], "ident")  # 14–17
    if line[28:29] == "I":  # 29
        _keep(line, collected, line[6:10].strip())  # 7–10
        raise UnusedRecord
    has_vor = bool(line[32:51].strip())
    lat, lon = parse_position(line[32:51] if has_vor else line[55:74])  # 33–51, 56–74
    place = Place(
        ident=station,
        lat=lat,
        lon=lon,
        kind=_vhf_kind(has_vor, has_dme=bool(line[55:74].strip())),
        region=line[19:21].strip(),
        airport=line[6:10].strip(),
        name=parse_name(line[93:123]),  # 94–123
        declination_deg=parse_variation(line[74:79]),  # 75–79
        elevation_ft=parse_whole(line[79:84]),  # 80–84
        source=collected.tables.source.name,
    )
    _add(collected, place)


def _vhf_kind(has_vor: bool, *, has_dme: bool) -> PlaceKind:
    if not has_vor:
        return PlaceKind.DME
    return PlaceKind.VOR_DME if has_dme else PlaceKind.VOR


def read_ndb(line: str, collected: Collected, _number: int) -> None:
    """DB, and PN with its airport (7–10)."""
    lat, lon = parse_position(line[32:51])
    station = parse_ident(line[13:17], "ident")
    airport = line[6:10].strip()
    place = Place(
        ident=station,
        lat=lat,
        lon=lon,
        kind=PlaceKind.NDB,
        region=line[19:21].strip(),
        airport=airport,
        name=parse_name(line[93:123]),
        variation_deg=parse_variation(line[74:79]),
        source=collected.tables.source.name,
    )
    _add(collected, place)


def read_airport(line: str, collected: Collected, _number: int) -> None:
    """PA."""
    lat, lon = parse_position(line[32:51])
    code = parse_ident(line[6:10], "ident")  # 7–10
    if code in collected.tables.airports:
        raise BadFieldError(f"a second record of the airport {code}")
    collected.tables.airports[code] = Place(
        ident=code,
        lat=lat,
        lon=lon,
        kind=PlaceKind.AIRPORT,
        region=line[10:12].strip(),  # 11–12
        name=parse_name(line[93:123]),
        variation_deg=parse_variation(line[51:56]),  # 52–56
        elevation_ft=parse_whole(line[56:61]),  # 57–61
        transition_altitude_ft=parse_altitude(line[70:75]) or None,  # 71–75
        transition_level_ft=parse_altitude(line[75:80]) or None,  # 76–80
        source=collected.tables.source.name,
    )


def read_runway(line: str, collected: Collected, _number: int) -> None:
    """PG. Columns 61–66 hold an ellipsoid height in tenths of a metre: the elevation is in 67–71."""
    lat, lon = parse_position(line[32:51])
    mark = parse_ident(line[13:18].removeprefix("RW"), "runway")  # 14–18
    runways = collected.tables.runways.setdefault(parse_ident(line[6:10], "airport"), {})
    if mark in runways:
        raise BadFieldError(f"a second record of runway {mark}")
    runways[mark] = Runway(
        mark,
        length_ft=parse_whole(line[22:27]),
        bearing_magnetic_deg=parse_magnetic(line[27:31]),
        lat=lat,
        lon=lon,
        elevation_ft=parse_whole(line[66:71]),
    )


def read_airway(line: str, collected: Collected, number: int) -> None:
    """ER. A blank second minimum (89–93) means that the first holds both ways; `UNKNN` is unknown."""
    sequence = line[25:29]  # 26–29
    if not sequence.isdecimal():
        raise BadFieldError(f"the sequence number {sequence!r} cannot be read")
    fix = reference(line[36:38], _NO_AIRPORT, parse_ident(line[29:34], "fix"), line[34:36])  # 37–38, 30–34, 35–36
    back = line[88:93]
    row = AirwayRow(
        int(sequence),
        fix,
        line[40:41] == "E",  # 41
        line[45:46].strip(),  # 46
        parse_magnetic(line[70:74]),  # 71–74
        parse_tenths(line[74:78]),  # 75–78
        parse_magnetic(line[78:82]),  # 79–82
        parse_altitude(line[83:88]),  # 84–88
        parse_altitude(back if back.strip() else line[83:88]),
        parse_altitude(line[93:98]),  # 94–98
        line[46:47] if line[46:47] in "FB" else "",  # 47
        number,
    )
    collected.airways.setdefault((parse_ident(line[13:18], "airway"), line[1:4]), []).append(row)


def read_procedure(line: str, collected: Collected, _number: int) -> None:
    """PD, PE and PF: that it exists, of SIDs and STARs the idents of enroute transitions (21–25); its legs unread."""
    code, kind = parse_ident(line[6:10], "airport"), line[12]  # 7–10, 13
    name = _approach_name(line[13:19]) if kind == "F" else parse_ident(line[13:19], "procedure")  # 14–19
    procedures = collected.tables.procedures.setdefault(code, {})
    transitions = procedures.setdefault((_KINDS[kind], name), set())
    if line[19:20] in _TRANSITIONS.get(kind, ()):
        transition = line[20:25].rstrip()
        if transition not in ("", "ALL"):
            transitions.add(transition)
    _keep(line, collected, code)


def _approach_name(text: str) -> str:
    if not text.strip():
        raise BadFieldError("no approach")
    return text.rstrip()


def read_localizer(line: str, collected: Collected, _number: int) -> None:
    """PI: goes into the airport's block, for the courses of the approaches that it guides."""
    parse_ident(line[13:17], "ident")  # 14–17
    parse_position(line[32:51])  # 33–51
    _keep(line, collected, parse_ident(line[6:10], "airport"))


def _keep(line: str, collected: Collected, airport: str) -> None:
    collected.coded.setdefault(airport, []).append(line[12:118].rstrip())


def read_grid_mora(line: str, collected: Collected, _number: int) -> None:
    """AS: thirty degrees eastward from its corner, three digits each in hundreds of feet, or UNK."""
    lat, lon = _corner(line[13:16], "NS", 90), _corner(line[16:20], "EW", 180)  # 14–16, 17–20
    for step in range(30):
        hundreds = line[30 + 3 * step : 33 + 3 * step]  # from 31
        if hundreds.isdecimal():
            collected.tables.mora[lat, (lon + step + 180) % 360 - 180] = int(hundreds) * 100.0


def _corner(text: str, letters: str, most: int) -> int:
    if text[:1] not in letters or not text[1:].isdecimal() or int(text[1:]) > most:
        raise BadFieldError(f"the corner {text!r} cannot be read")
    return int(text[1:]) if text[0] == letters[0] else -int(text[1:])


class UnusedRecord(Exception):  # noqa: N818 – no error: a record that is in order and not for us
    """A record of a kind that is read, which says of itself that it is none of our points."""


def _add(collected: Collected, place: Place) -> None:
    if collected.tables.places.setdefault(ref_of(place), place) is not place:
        raise BadFieldError(f"a second record of {place.ident}")


AIRPORT_SECTIONS = frozenset({"P ", "H "})
"""Sections whose subsection stands in column 13, not in 6."""
WHOLE_SECTIONS = frozenset({"EA", "D ", "DB", "PN", "ER", "AS"})
"""Sections that stand whole in columns 5 and 6."""
PRIMARY = frozenset({"0", "1", " ", ""})
"""Continuation numbers of records that stand by themselves or come first; the rest add what is not used here."""
RECORDS: dict[str, tuple[int, str, Callable[[str, Collected, int], None]]] = {
    "EA": (21, "enroute fixes", read_enroute_fix),
    "PC": (21, "terminal fixes", read_terminal_fix),
    "D ": (21, "VHF navaids", read_vhf_navaid),
    "DB": (21, "NDBs", read_ndb),
    "PN": (21, "NDBs", read_ndb),
    "ER": (38, "airway records", read_airway),
    "PA": (21, "airports", read_airport),
    "HC": (21, "terminal fixes", read_terminal_fix),
    "PG": (21, "runways", read_runway),
    "PD": (38, "SID records", read_procedure),
    "PE": (38, "STAR records", read_procedure),
    "PF": (38, "approach records", read_procedure),
    "PI": (21, "localizers", read_localizer),
    "AS": (21, "grid MORA rows", read_grid_mora),
}
"""By section: where the continuation number stands (counted from 0), what is counted, what reads it."""
