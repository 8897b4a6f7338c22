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
    """The terminal fixes of an airport."""
    region = airport_spot(airport).region
    return {i: Spot(i, region, "PC", *on_chart(*xy)) for i, xy in PLAN["terminal"].get(airport, {}).items()}


def airport_spot(ident: str) -> Spot:
    """An airport's reference point."""
    x, y = PLAN["airports"][ident][:2]
    return Spot(ident, region_of(y), "PA", *on_chart(x, y))
