"""Hand-made ARINC 424 records for the tests: each field named and put at its column. No tests here.

Columns as in the U.S. file, cycle 2301. All places are invented and belong to no chart.
"""

import math
from collections.abc import Iterable

from routecheck.navdata import readers
from routecheck.navdata.tables import Tables


def read(lines: Iterable[str], name: str = "test") -> Tables:
    """Records as they would be read from a file."""
    return readers.read_text("\n".join(lines), name)


def record(fields: dict[int, str]) -> str:
    """132 blanks with each text written from its column (counted from 1)."""
    line = [" "] * 132
    for column, text in fields.items():
        line[column - 1 : column - 1 + len(text)] = text
    return "".join(line[:132])


def position(lat: float, lon: float) -> str:
    """`Nddmmssss` and `Wdddmmssss`, seconds in hundredths."""
    return f"{'NS'[lat < 0]}{_sexagesimal(lat, 2)}{'EW'[lon < 0]}{_sexagesimal(lon, 3)}"


def _sexagesimal(degrees: float, width: int) -> str:
    hundredths = round(math.fabs(degrees) * 360_000)
    minutes, seconds = divmod(hundredths, 6_000)
    whole, minutes = divmod(minutes, 60)
    return f"{whole:0{width}d}{minutes:02d}{seconds:04d}"


def fix(ident: str, lat: float, lon: float, region: str = "XX", **more: str) -> str:
    """EA: ident 14, region 20, continuation 22, position 33, variation 75, name 99, cycle 129."""
    return record(
        {
            1: "SXXXEAENRT",
            14: ident,
            20: region,
            22: more.get("continuation", "0"),
            33: position(lat, lon),
            75: more.get("variation", ""),
            99: more.get("name", ""),
            129: more.get("cycle", "2601"),
        }
    )


def terminal_fix(airport: str, ident: str, lat: float, lon: float, region: str = "XX") -> str:
    """PC: airport 7, its region 11, subsection 13, ident 14, region 20, position 33."""
    return record(
        {1: "SXXXP", 7: airport, 11: "XX", 13: "C", 14: ident, 20: region, 22: "0", 33: position(lat, lon), 129: "2601"}
    )


def vhf(ident: str, vor: tuple[float, float] | None, dme: tuple[float, float] | None = None, **more: str) -> str:
    """D: airport 7, ident 14, region 20, frequency 23, class 28, VOR 33, DME 56, declination 75, elevation 80."""
    return record(
        {
            1: "SXXXD",
            7: more.get("airport", ""),
            14: ident,
            20: more.get("region", "XX"),
            22: "0",
            23: "11270",
            28: ("V" if vor else " ") + more.get("letter", "D" if dme else " "),
            33: position(*vor) if vor else "",
            56: position(*dme) if dme else "",
            75: more.get("declination", "E0100"),
            80: more.get("elevation", "00120"),
            94: more.get("name", ""),
            129: "2601",
        }
    )


def ndb(ident: str, lat: float, lon: float, airport: str = "") -> str:
    """DB, or PN with an airport: airport 7, ident 14, region 20, position 33, variation 75."""
    section = "PN" if airport else "DB"
    return record(
        {
            1: f"SXXX{section}",
            7: airport,
            14: ident,
            20: "XX",
            22: "0",
            33: position(lat, lon),
            75: "W0050",
            129: "2601",
        }
    )


def airport(ident: str, lat: float, lon: float, **more: str) -> str:
    """PA: ident 7, region 11, subsection 13, three-letter code 14, position 33, variation 52, elevation 57, name 94."""
    return record(
        {
            1: "SXXXP",
            7: ident,
            11: "XX",
            13: "A",
            14: more.get("passenger_code", ""),
            22: "0",
            33: position(lat, lon),
            52: "E0035",
            57: more.get("elevation", "00450"),
            94: more.get("name", ""),
            129: "2601",
        }
    )


def runway(of: str, mark: str, lat: float, lon: float, **more: str) -> str:
    """PG: airport 7, subsection 13, runway 14, length 23, bearing 28, threshold 33, heights 61 and 67."""
    return record(
        {
            1: "SXXXP",
            7: of,
            13: "G",
            14: mark,
            22: "0",
            23: more.get("length", "08200"),
            28: more.get("bearing", "0874"),
            33: position(lat, lon),
            61: "+01299",
            67: more.get("elevation", "00433"),
            129: "2601",
        }
    )


def leg(designator: str, sequence: int, ident: str, *, area: str = "XXX", **more: str) -> str:
    """ER: airway 14, sequence 26, fix 30, region 35, section 37, continuation 39, end mark 41, level 46, one way 47,
    outbound course 71, distance 75, inbound course 79, minima 84 and 89, maximum 94.
    """
    return record(
        {
            1: f"S{area}ER",
            14: designator,
            26: f"{sequence:04d}",
            30: ident,
            35: more.get("region", "XX"),
            37: more.get("section", "EA"),
            39: more.get("continuation", "0"),
            40: "EE" if more.get("end") else "E ",
            45: "O" + more.get("level", " ") + more.get("one_way", " "),
            71: more.get("course", ""),
            75: more.get("distance", ""),
            79: more.get("inbound", ""),
            84: more.get("minimum", ""),
            89: more.get("minimum_back", ""),
            94: more.get("maximum", ""),
            129: "2601",
        }
    )


def procedure(of: str, letter: str, name: str, route_type: str, transition: str = "", continuation: str = "0") -> str:
    """PD or PE: airport 7, subsection 13 (D or E), name 14, route type 20, transition 21, continuation 39."""
    return record(
        {
            1: "SXXXP",
            7: of,
            13: letter,
            14: name,
            20: route_type,
            21: transition,
            27: "010",
            39: continuation,
            129: "2601",
        }
    )


def coded(
    of: str, letter: str, name: str, route_type: str, branch: str, sequence: int, leg_type: str, **more: str
) -> str:
    """PD, PE or PF with a leg: as `procedure`, sequence 27, fix 30, description 40, turn 44, leg type 48, navaid 51,
    radius 57, theta 63, rho 67, course 71, distance 75, altitude code 83, altitudes 85 and 90, transition altitude 95,
    speed 100, vertical angle 103, centre 107, speed code 118. Fix, navaid and centre as "IDENT region section".
    """
    fields = {1: "SXXXP", 7: of, 11: "XX", 13: letter, 14: name, 20: route_type, 21: branch, 27: f"{sequence:03d}"}
    fields |= {
        39: more.get("continuation", "0"),
        40: more.get("description", ""),
        44: more.get("turn", ""),
        48: leg_type,
    }
    for key, columns in (("fix", (30, 35, 37)), ("navaid", (51, 55, 79)), ("centre", (107, 113, 115))):
        words = more.get(key, "").split(maxsplit=2)
        fields |= dict(zip(columns, words, strict=False))
    single = {"radius": 57, "theta": 63, "rho": 67, "course": 71, "distance": 75, "code": 83, "first": 85, "second": 90}
    single |= {"transition": 95, "speed": 100, "path": 103, "speed_code": 118}
    return record(fields | {column: more[key] for key, column in single.items() if key in more} | {129: "2601"})


def localizer(of: str, ident: str, lat: float, lon: float, declination: str = "W0050") -> str:
    """PI: airport 7, subsection 13, ident 14, category 18, position 33, declination 91."""
    fields = {1: "SXXXP", 7: of, 11: "XX", 13: "I", 14: ident, 18: "1", 22: "0", 33: position(lat, lon)}
    return record(fields | {91: declination, 129: "2601"})


def grid(corner: str, cells: list[str]) -> str:
    """AS: corner 14 (`N50E010`), cells of three characters from 31."""
    return record({1: "S   AS", 14: corner, 31: "".join(cells), 129: "2601"})


HEADERS = [
    "HDR01XXTEST        001P000000010012612",
    "HDR04                                 TEST RECORDS VOLUME 2612  EFFECTIVE 26 NOV 2026",
]
