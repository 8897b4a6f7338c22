"""The reader of navigation data as a mutated reader: records dropped, doubled, hidden, cut off. No tests here."""

from pathlib import Path
from typing import Any

from mutated_readers import MutatedReader
from mutators import change_parts, cut_end, remove_stretch

from routecheck.navdata.archives import text_member
from routecheck.navdata.arinc424.reader import Arinc424Reader
from routecheck.navdata.data_reader import NothingUsableError

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
