"""TOML that somebody may hand in and nobody should: values, and whole documents. What is bad costs itself alone."""

from __future__ import annotations

FIGURES = {
    "zero with an endless exponent": "0e999999",
    "an exponent of twenty digits": "1e99999999999999999999",
    "a small one of twenty digits": "1e-99999999999999999999",
    "an exponent of seven digits": "1e9999999",
    "1 and 400 zeros": "1" + "0" * 400,
    "1 and 400 zeros and a point": "1" + "0" * 400 + ".0",
    "4,000 F": "0x" + "F" * 4_000,
    "4,000 sevens": "0o" + "7" * 4_000,
    "4,000 ones": "0b" + "1" * 4_000,
    "5,000 nines": "9" * 5_000,
    "5,000 digits behind the point": "0." + "3" * 5_000,
    "not a number": "nan",
    "endless": "inf",
    "endlessly small": "-inf",
    "minus nothing": "-0.0",
    "a digit below all": "5e-324",
    "true": "true",
    "text": '"31"',
    "a list": "[1, 2]",
    "a list of lists": "[[[[[]]]]]",
    "a table": "{a = 1}",
    "a time before the calendar": "0001-01-01T00:00:00+23:59",
    "a time behind the calendar": "9999-12-31T23:59:59-23:59",
    "the first day": "0001-01-01",
    "the last day": "9999-12-31",
    "a time of day": "23:59:59.999999999",
    "a time without zone": "0001-01-01T00:00:00",
}  # fmt: skip
"""Values where a number is expected, or a day, or text."""

ROUTE = 'departure = "XVAL"\ndestination = "XVOR"\nroute = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"\n'


def _tables(count: int, table: str) -> str:
    return ROUTE + table * count


KEYED = {
    f"{key} = {name}": f"{key} = {value}\n{ROUTE}"
    for key, names in {
        "schema": ["4,000 F", "1 and 400 zeros", "not a number", "true", "a list", "the first day"],
        "isa_deviation_c": ["1 and 400 zeros", "an exponent of twenty digits", "endless"],
        "off_block": ["a time before the calendar", "a time behind the calendar", "the first day", "4,000 F"],
        "wind": ["a list of lists", "a table", "4,000 F"],
        "level": ["4,000 F", "a list"],
        "alternate": ["a list of lists", "5,000 nines"],
        "role": ["not a number", "a table"],
        "title": ["5,000 nines", "a time without zone"],
        "expect": ["a list of lists"],
    }.items()
    for name in names
    for value in [FIGURES[name]]
}
CLAIMED = {
    f"a claim of lat {name}": f'{ROUTE}[[claim]]\nto = "PIKAR"\nlat = {value}\nlon = 12.0\ndistance_nm = {value}\n'
    for name in (
        "zero with an endless exponent",
        "an exponent of twenty digits",
        "a small one of twenty digits",
        "an exponent of seven digits",
        "1 and 400 zeros and a point",
        "5,000 digits behind the point",
        "not a number",
    )
    for value in [FIGURES[name]]
}
_NEEDED = 'point = "PIKAR"\nto = "PIKAR"\nold = "A"\nnew = "B"\ncheck = "dogleg"\nreason = "r"\nby = "b"\n'
STATED = {
    f"{table} with {key} {name}": f"{ROUTE}[[{table}]]\n{_NEEDED}{key} = {FIGURES[name]}\n"
    for table, key, name in (
        ("window", "low_ft", "4,000 F"),
        ("window", "at_ft", "an exponent of twenty digits"),
        ("wind", "speed_kt", "1 and 400 zeros"),
        ("changed", "offset", "4,000 F"),
        ("accepted", "at", "a time before the calendar"),
        ("accepted", "at", "a time behind the calendar"),
        ("accepted", "at", "a time without zone"),
    )
}
SHAPED = {
    "a dotted key of 100 KB": ROUTE + "a." * 50_000 + "a = 1\n",
    "a dotted key of quoted parts": ROUTE + '"a".' * 25_000 + "a = 1\n",
    "a header of 100 KB": ROUTE + "[" + "a." * 50_000 + "a]\nb = 1\n",
    "an inline table of a dotted key": ROUTE + "x = {" + "a." * 50_000 + "a = 1}\n",
    "a plain key of 100 KB": ROUTE + "a" * 100_000 + " = 1\n",
    "lists 5,000 deep": ROUTE + "x = " + "[" * 5_000 + "]" * 5_000 + "\n",
    "lists 90 deep": ROUTE + "x = " + "[" * 90 + "]" * 90 + "\n",
    "tables 5,000 deep": ROUTE + "x = " + "{a=" * 5_000 + "1" + "}" * 5_000 + "\n",
    "an open list": ROUTE + "x = [" * 3,
    "2,000 claims": _tables(2_000, "[[claim]]\n"),
    "1,000 unknown keys": "".join(f"k{i} = {i}\n" for i in range(1_000)) + ROUTE,
    "a key twice": ROUTE + ROUTE,
    "a table over a value": ROUTE + "[route]\na = 1\n",
    "no tables where tables are": ROUTE + "claim = 1\nwindow = [1]\nwind = [[]]\naccepted = {}\nchanged = [{}]\n",
    "NUL in it": ROUTE.replace("TOVIK", "\0"),
    "a mark at its beginning": "\ufeff" + ROUTE,
    "nothing": "",
    "only a remark": "# route = 1\n",
    "a route of 200,000 letters": f'route = "{"A" * 200_000}"\n',
    "a route of 2,000 dots": f'route = "{"A." * 2_000}"\n',
    "a later schema": "schema = 2\n" + ROUTE,
    "a schema below all": "schema = -1\n" + ROUTE,
    "ends of carriage returns alone": ROUTE.replace("\n", "\r"),
    "half a pair of surrogates": ROUTE.replace("TOVIK", "\\uD800"),
    "5 MB": ROUTE + "#" * 5_000_000 + "\n",
}
RAW = {
    "no UTF-8": ROUTE.encode().replace(b"TOVIK", b"\xff\xfe\x80"),
    "UTF-16": ROUTE.encode("utf-16"),
    "cut within a letter": ROUTE.replace("TOVIK", "TOVI\u00c9").encode()[:-12],
}
ROUTE_FILES: dict[str, bytes] = {
    **{name: text.encode("utf-8", "surrogatepass") for name, text in (KEYED | CLAIMED | STATED | SHAPED).items()},
    **RAW,
}
