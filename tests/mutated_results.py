"""The reader of our own results as a list of known routes, as a mutated reader. No tests here."""

import json
from typing import Any

from mutated_readers import MutatedReader
from mutators import CHARACTERS, change_parts

from routecheck.known.list_rows import read_list_rows

_ROUTES = (("one", "XVAL", "XVOR", "LENDU DCT PIKAR"), ("two", "XVOR", "XVMA", "SARNO UN34 TOVIK"), ("", "", "", "DCT"))
_KEYS = ("name", "departure", "destination", "route")
RESULTS_TEXT = "\n".join(
    json.dumps({"schema": "routecheck.result/1", **dict(zip(_KEYS, one, strict=True))}, separators=(",", ":"))
    for one in _ROUTES
)


def mean_results(text: str) -> Any:
    """Of each line what a known route is made of; the line itself where it is no result, or a key stands twice.

    A line may begin as a file does, with a byte order mark: files are put one behind another.
    """
    return [_mean_line(line.removeprefix("\ufeff")) for line in text.splitlines() if line.strip()]


def _mean_line(line: str) -> Any:
    try:
        pairs = json.loads(line, object_pairs_hook=list)
    except (ValueError, RecursionError):
        return line
    read = [value for key in ("schema", *_KEYS) for name, value in pairs if name == key]
    return read if len(pairs) == len(dict(pairs)) else line


RESULTS = MutatedReader(
    "results as known routes",
    (RESULTS_TEXT,),
    (*CHARACTERS, *change_parts("\n"), *change_parts(",")),
    lambda text: list(read_list_rows(text.encode("utf-8", "replace"), "out.jsonl")),
    mean_results,
)
