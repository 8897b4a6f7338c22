"""Writes demo_region.txt and islands.json: how records look is said here, what exists is said in plan.toml alone.

Run from anywhere: python resources/demo/make_region.py [FOLDER]. The same plan gives the same bytes. Columns are those
of ARINC 424-18 as found in public data; every position, height and name is invented (see README.md).
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from chart import (
    HERE,
    PLAN,
    Spot,
    airport_spot,
    by_name,
    declination,
    enroute,
    find,
    localizer,
    navaid,
    terminal,
    thresholds,
)
from columns import WIDTH, line, magnetic_course, position, tenths, variation
from ground import ground_by_cell, islands, mora_ft
from legs import procedure_records

from routecheck.earth import geo

DATUM = "WGE"
MORA_WEST, MORA_LATITUDES = -20, range(-37, -25)
SEA_MORA_FT = 1000


# ---------------------------------------------------------------- records


def fix_records() -> list[str]:
    """EA records, then PC under each airport."""
    plain = [line((5, "EAENRT"), (31, "B"), (27, "C"), *fix_fields(s, 99)) for s in sorted(enroute())]
    for airport in sorted(PLAN["terminal"]):
        head = (5, f"P {airport}{airport_spot(airport).region}C")
        plain += [line(head, (27, "W"), *fix_fields(s, 99)) for s in terminal(airport).values()]
    return plain


def fix_fields(spot: Spot, name_column: int) -> list[tuple[int, str]]:
    """The columns that enroute and terminal fixes share."""
    return [
        (14, spot.ident), (20, spot.region), (22, "0"), (33, position(spot)), (75, variation(spot.variation)),
        (85, DATUM), (name_column, spot.ident),
    ]  # fmt: skip


def vhf_records() -> list[str]:
    """VOR/DMEs, and the DME that stands alone: its VOR columns stay empty."""
    records = []
    for ident, (x, y, mhz, elevation, name) in (PLAN["vors"] | PLAN["dmes"]).items():
        spot = navaid(ident, "D ", x, y)
        alone = ident in PLAN["dmes"]
        vor = [] if alone else [(28, "V"), (33, position(spot))]
        records.append(line(
            (5, "D"), (14, ident), (20, spot.region), (22, "0"), (23, f"{round(mhz * 100):05d}"), (29, "DHW"), *vor,
            (52, ident), (56, position(spot)), (75, variation(declination(spot))), (80, f"{elevation:05d}"), (85, "2"),
            (91, DATUM), (94, name),
        ))  # fmt: skip
    return sorted(records)


def ndb_records() -> list[str]:
    """Enroute and terminal NDBs."""
    rows = [(5, "DB", i, *row) for i, row in PLAN["ndbs"].items()]
    records = [ndb(head, ident, x, y, khz, name) for _, head, ident, x, y, khz, name in rows]
    for ident, (airport, x, y, khz, name) in PLAN["terminal_ndbs"].items():
        records.append(ndb(f"PN{airport}{airport_spot(airport).region}", ident, x, y, khz, name))
    return records


def ndb(head: str, ident: str, x: float, y: float, khz: float, name: str) -> str:
    """One NDB."""
    spot = navaid(ident, "DB", x, y)
    return line(
        (5, head), (14, ident), (20, spot.region), (22, "0"), (23, f"{round(khz * 10):05d}"), (28, "H"), (31, "W"),
        (33, position(spot)), (75, variation(spot.variation)), (91, DATUM), (94, name),
    )  # fmt: skip


def airport_records() -> list[str]:
    """An airport with both ends of its runways."""
    records = []
    for ident, (_, _, elevation, name, _) in PLAN["airports"].items():
        spot = airport_spot(ident)
        runways = [r for r in PLAN["runways"] if r["at"] == ident]
        longest = max(r["length_ft"] for r in runways) // 100
        records.append(line(
            (5, f"P {ident}{spot.region}A"), (22, "0"), (28, f"{longest:03d}YH"), (33, position(spot)),
            (52, variation(spot.variation)), (57, f"{elevation:05d}"), (71, "1800018000C"), (86, "M"), (87, DATUM),
            (94, name),
        ))  # fmt: skip
        records += [end for runway in runways for end in runway_ends(spot, runway, elevation)]
    return records


def runway_ends(field: Spot, runway: dict[str, Any], elevation: int) -> list[str]:
    """PG records of both ends of one strip."""
    records = []
    for bearing, threshold in thresholds(field, runway):
        records.append(line(
            (5, f"P {field.ident}{field.region}G"), (14, threshold.ident), (22, "0"),
            (23, f"{runway['length_ft']:05d}"), (28, magnetic_course(bearing, field.variation)),
            (33, position(threshold)), (67, f"{elevation:05d}"), (72, "0000"), (76, "50"),
            (78, f"{runway['width_ft']:03d}"),
        ))  # fmt: skip
    return records


def localizer_records() -> list[str]:
    """PI records: the antenna beyond the far end of its runway, aligned to the field in whole degrees."""
    records = []
    for ident, row in PLAN["localizers"].items():
        aid = localizer(ident)
        magnetic = magnetic_course(row["true_bearing"], declination(aid))
        head, frequency = f"P {row['at']}{aid.region}I", f"{round(row['mhz'] * 100):05d}"
        records.append(line(
            (5, head), (14, ident), (18, "1"), (22, "0"), (23, frequency),
            (28, row["runway"]), (33, position(aid)), (52, magnetic), (88, "300"), (91, variation(declination(aid))),
        ))  # fmt: skip
    return records


# ---------------------------------------------------------------- airways


def airway_records() -> list[str]:
    """ER records of every airway, piece by piece."""
    names = by_name()
    records = []
    for airway in PLAN["airways"]:
        sequence = 100
        for piece in airway["fixes"].split("|"):
            spots = [find(word, names) for word in piece.split()]
            for i in range(len(spots)):
                records.append(airway_record(airway, sequence, spots, i))
                sequence += 10
    return records


def airway_record(airway: dict[str, Any], sequence: int, spots: list[Spot], i: int) -> str:
    """The record at fix `i` of a piece: what leads on from it and what leads into it."""
    spot, last = spots[i], i == len(spots) - 1
    fields = [
        (5, "ER"), (14, airway["name"]), (26, f"{sequence:04d}"), (30, spot.ident), (35, spot.region),
        (37, spot.section), (39, "0"), (40, "V" if spot.section == "D " else "N" if spot.section == "DB" else "E"),
        (45, airway["kind"]), (46, airway["level"]), (47, airway.get("one_way", "")),
    ]  # fmt: skip
    if last:
        fields.append((41, "E"))
    if i:
        _, arriving, _ = leg(spots[i - 1], spot)
        fields.append((79, magnetic_course(arriving, alignment(airway, spot))))
    if not last:
        leaving, _, distance = leg(spot, spots[i + 1])
        fields += [(71, magnetic_course(leaving, alignment(airway, spot))), (75, tenths(distance))]
        fields += minima(airway, spot.ident)
    return line(*fields)


def leg(a: Spot, b: Spot) -> tuple[float, float, float]:
    """Geodesic between two places: courses at both ends and length."""
    return geo.inverse(a.lat, a.lon, b.lat, b.lon)


def alignment(airway: dict[str, Any], spot: Spot) -> float:
    """Variation a coded course uses: the station's alignment on radials, the field elsewhere."""
    return declination(spot) if airway["kind"] == "O" and spot.section == "D " else spot.variation


def minima(airway: dict[str, Any], ident: str) -> list[tuple[int, str]]:
    """Minimum, second minimum where it differs, and maximum of the stretch that begins at a fix."""
    low, high = airway["heights"]
    known = ident not in airway.get("unknown_minimum", ())
    fields = [(84, f"{low:05d}" if known else "UNKNN"), (94, f"{high:05d}")]
    back = airway.get("higher_back", {}).get(ident)
    return fields if back is None else [*fields, (89, f"{back:05d}")]


# ---------------------------------------------------------------- grid minima and files


def mora_records() -> list[str]:
    """AS records: thirty cells eastward from 20 W, unknown outside the box of the plan."""
    ground = ground_by_cell()
    records = []
    for lat in MORA_LATITUDES:
        cells = [
            f"{(mora_ft(ground[lat, lon]) if (lat, lon) in ground else SEA_MORA_FT) // 100:03d}" if lon >= -7 else "UNK"
            for lon in range(MORA_WEST, MORA_WEST + 30)
        ]
        records.append(line((5, "AS"), (14, f"S{-lat:02d}W{-MORA_WEST:03d}"), (31, "".join(cells))))
    return records


def header(count: int) -> list[str]:
    """The five lines at the top, in the places where such files carry cycle and dates."""
    effective = PLAN["effective"]
    words = [
        f"HDR01RCDEMOREG      001P0132{count:07d}{PLAN['cycle']}  {PLAN['created']}00:00:00  ROUTECHECK",
        "HDR02                                 INVENTED REGION, NOT FOR NAVIGATION",
        "HDR03                                 EVERY NAME, PLACE AND HEIGHT IN THIS FILE IS MADE UP",
        f"HDR04                                 ROUTECHECK DEMO REGION VOLUME {PLAN['cycle']}  EFFECTIVE {effective}",
        "HDR05                                 WRITTEN BY RESOURCES/DEMO/MAKE_REGION.PY",
    ]
    return [text.ljust(WIDTH) for text in words]


def region() -> str:
    """The whole of demo_region.txt."""
    groups = (
        mora_records, vhf_records, ndb_records, fix_records, airway_records, airport_records, localizer_records,
        procedure_records,
    )  # fmt: skip
    records = [record for group in groups for record in group()]
    numbered = [r[:123] + f"{n:05d}" + r[128:] for n, r in enumerate(records, 1)]
    return "\n".join([*header(len(numbered) + 5), *numbered]) + "\n"


def main() -> None:
    """Write both files into the folder named, or beside this script."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE
    (folder / "demo_region.txt").write_text(region(), "ascii", newline="\n")
    text = json.dumps({"islands": islands()}, indent=None, separators=(",", ":"))
    (folder / "islands.json").write_text(text.replace('{"name"', '\n{"name"') + "\n", "ascii", newline="\n")


if __name__ == "__main__":
    main()
