"""The chart of the demo region: plan.toml read, and its places set on the earth. No record columns here."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any, NamedTuple

from routecheck.earth import geo, magnetic

HERE = Path(__file__).parent
PLAN: dict[str, Any] = tomllib.loads((HERE / "plan.toml").read_text("utf-8"))


class Spot(NamedTuple):
    """A place of the plan as its record has it: position in degrees rounded to 0.01 second."""

    ident: str
    region: str
    section: str
    lat: float
    lon: float

    @property
    def variation(self) -> float:
        """Present declination of the field, degrees east, to the tenth that a record holds."""
        field = magnetic.declination(self.lat, self.lon, PLAN["variation_date"])
        assert field is not None, "the plan's date lies outside the model"
        return round(field.declination_deg, 1)


def rounded(degrees: float) -> float:
    """Degrees to the hundredth of a second a record holds."""
    return round(degrees * 360000) / 360000


def on_chart(x: float, y: float) -> tuple[float, float]:
    """Miles east and north of the centre as (lat, lon)."""
    lat, lon = geo.direct(*PLAN["centre"], math.degrees(math.atan2(x, y)) % 360, math.hypot(x, y))
    return rounded(lat), rounded(lon)


def region_of(y: float) -> str:
    """Region of a place that the plan does not sort itself."""
    return "XV" if y > -60 else "XW"


def navaid(ident: str, section: str, x: float, y: float) -> Spot:
    """A navaid of the plan."""
    return Spot(ident, region_of(y), section, *on_chart(x, y))


def enroute() -> list[Spot]:
    """Every enroute fix, ocean points included."""
    spots = [Spot(i, r, "EA", *on_chart(*xy)) for r, group in PLAN["fixes"].items() for i, xy in group.items()]
    return spots + [Spot(i, r, "EA", *pos) for r, group in PLAN["ocean"].items() for i, pos in group.items()]


def by_name() -> dict[str, list[Spot]]:
    """All enroute fixes and navaids, to be referred to by name."""
    spots = [*enroute()]
    spots += [navaid(i, "D ", row[0], row[1]) for kind in ("vors", "dmes") for i, row in PLAN[kind].items()]
    spots += [navaid(i, "DB", row[0], row[1]) for i, row in PLAN["ndbs"].items()]
    names: dict[str, list[Spot]] = {}
    for spot in spots:
        names.setdefault(spot.ident, []).append(spot)
    return names


def find(word: str, names: dict[str, list[Spot]]) -> Spot:
    """The one place a word of the plan means: "SARNO" or "TOVIK/XW"."""
    ident, _, region = word.partition("/")
    (spot,) = (s for s in names[ident] if region in ("", s.region))
    return spot


def terminal(airport: str) -> dict[str, Spot]:
    """The terminal fixes of an airport, those said by bearing and distance from elsewhere after the others."""
    region = airport_spot(airport).region
    spots = {i: Spot(i, region, "PC", *on_chart(*xy)) for i, xy in PLAN["terminal"].get(airport, {}).items()}
    for ident, (start, bearing, distance) in PLAN["terminal_from"].get(airport, {}).items():
        near = spots.get(start) or reference(start, airport)
        lat, lon = geo.direct(near.lat, near.lon, bearing, distance)
        spots[ident] = Spot(ident, region, "PC", rounded(lat), rounded(lon))
    return spots


def reference(name: str, airport: str) -> Spot:
    """A navaid, a localizer or a runway's end of an airport, by name."""
    if name in PLAN["localizers"]:
        return localizer(name)
    if name in PLAN["vors"]:
        return navaid(name, "D ", *PLAN["vors"][name][:2])
    field = airport_spot(airport)
    ends = (end for runway in PLAN["runways"] if runway["at"] == airport for _, end in thresholds(field, runway))
    return next(end for end in ends if end.ident == name)


def localizer(ident: str) -> Spot:
    """The antenna of a localizer: 0.15 NM beyond the far end of its runway."""
    row = PLAN["localizers"][ident]
    far = reference(row["beyond"], row["at"])
    lat, lon = geo.direct(far.lat, far.lon, row["true_bearing"], 0.15)
    return Spot(ident, far.region, "PI", rounded(lat), rounded(lon))


def thresholds(field: Spot, runway: dict[str, Any]) -> list[tuple[float, Spot]]:
    """Both ends of one strip with the true bearing along it, its middle `offset` miles east and north of the field."""
    east, north = runway["offset"]
    middle = geo.direct(field.lat, field.lon, math.degrees(math.atan2(east, north)) % 360, math.hypot(east, north))
    half = runway["length_ft"] * 0.3048 / geo.METRES_PER_NM / 2
    ends = []
    for bearing, number in ((runway["true_bearing"], runway["number"]), other_end(runway)):
        spot = geo.direct(*middle, (bearing + 180) % 360, half)
        ends.append((bearing, Spot(f"RW{number}", field.region, "PG", *spot)))
    return ends


def other_end(runway: dict[str, Any]) -> tuple[float, str]:
    """Bearing and number of the opposite end."""
    number, side = int(runway["number"][:2]), runway["number"][2:]
    opposite = f"{(number + 17) % 36 + 1:02d}" + {"L": "R", "R": "L"}.get(side, side)
    return (runway["true_bearing"] + 180) % 360, opposite


def declination(spot: Spot) -> float:
    """What a VHF station or localizer is aligned to, degrees east."""
    old: float | None = PLAN["old_alignment"].get(spot.ident)
    return float(round(spot.variation)) if old is None else old


def airport_spot(ident: str) -> Spot:
    """An airport's reference point."""
    x, y = PLAN["airports"][ident][:2]
    return Spot(ident, region_of(y), "PA", *on_chart(x, y))
