"""The readers of navigation data as mutated readers: records dropped, doubled, hidden, cut off. No tests here."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from mutated_readers import MutatedReader
from mutators import CHARACTERS, change_parts, cut_end, remove_stretch

from routecheck.navdata.archives import text_member
from routecheck.navdata.arinc424.reader import Arinc424Reader
from routecheck.navdata.data_reader import NothingUsableError
from routecheck.navdata.faa_points.reader import FaaPointsReader

_DEMO = Path(__file__).resolve().parents[1] / "resources" / "demo" / "demo_region.txt"
_HEADERS, _EVERY = 5, 9


def _some_records() -> str:
    """A few records of each kind, with a header that announces them."""
    lines = _DEMO.read_text("latin-1").splitlines()
    kept = lines[:_HEADERS] + lines[_HEADERS::_EVERY]
    kept[0] = f"{kept[0][:28]}{len(kept):07}{kept[0][35:]}"
    return "\n".join(kept)


def read_records(text: str) -> Any:
    try:
        tables = Arinc424Reader().read(text_member(text), "any", lambda _: None)
    except NothingUsableError as error:
        return str(error)
    return tables.source, tables.places, tables.airports, tables.runways, tables.airways, tables.blocks, tables.mora


def mean_records(text: str) -> Any:
    """The records, in whatever order they stand, as far as a column is used; of the headers what they announce."""
    lines = [line[:110].rstrip() for line in text.split("\n") if line.strip()]
    announced = {line[28:35] for line in lines if line.startswith("HDR01")}
    return announced, sorted(line for line in lines if not line.startswith("HDR"))


RECORDS = MutatedReader(
    "records of navigation data",
    (_some_records(),),
    (*change_parts("\n"), cut_end, remove_stretch),
    read_records,
    mean_records,
)

# ---- the FAA's table of points

_POINTS_HEAD = "X,Y,IDENT,LATITUDE,LONGITUDE,TYPE_CODE,MAGVAR,COUNTRY"
_POINTS = (
    "1,1,FULTY,31-53-41.240N,086-15-32.060W,RPT,-4.10083969,UNITED STATES",
    "2,2,GOODY,25-37-60.000N,095-31-0.000W,RPT,,MEXICO",
    "3,3,MDO,59-25-18.960N,146-21-00.100W,OTHER,,UNITED STATES",
    "4,4,ABCDE,40-00-00.000N,070-00-00.000W,WPT,-15.5,UNITED STATES",
)


def read_points(text: str) -> Any:
    data = text.encode("latin-1", "replace")
    if not FaaPointsReader().sniff(data[:4096]):
        return "of no form that is known"
    try:
        tables = FaaPointsReader().read(text_member(text), "any", lambda _: None)
    except NothingUsableError as error:
        return str(error)
    return tables.source, tables.places


def mean_points(text: str) -> Any:
    """The rows, in whatever order they stand, as far as a column is used; of one that is left out no more than that."""
    lines = [[cell.strip() for cell in line.replace('"', "").split(",")] for line in text.split("\n")]
    rows = [dict(zip(lines[0], line, strict=False)) for line in lines[1:] if any(line)]
    return sorted(
        "left out" if row.get("TYPE_CODE") in ("OTHER", "GND") else " ".join(_mean_point(row)) for row in rows
    )


def _mean_point(row: dict[str, str]) -> Iterator[str]:
    """The cells that are used; angles without zeros that say nothing."""
    for name in ("IDENT", "LATITUDE", "LONGITUDE", "MAGVAR"):
        cell = re.sub(r"(\.\d*?)0+(?=[NSEW]?$)", r"\1", row.get(name, "")).replace(".", " ").rstrip()
        cell = re.sub(r" (?=[NSEW]$)", "", cell)
        yield "-".join(part.lstrip("0") if part[1:] else part for part in re.sub(r"-0+(?=\d)", "-", cell).split("-"))


POINTS = MutatedReader(
    "FAA points",
    ("\n".join((_POINTS_HEAD, *_POINTS)),),
    (*CHARACTERS, *change_parts("\n"), *change_parts(",")),
    read_points,
    mean_points,
)

DATA_READERS = (RECORDS, POINTS)
