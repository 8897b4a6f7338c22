"""The readers of plans with more than a route in them as mutated readers: nav log, page, FIXM. No tests here."""

import re
from typing import Any

from lxml import etree
from mutated_readers import MutatedReader, read_inputs
from mutators import CHARACTERS, change_parts

# ---- nav logs

_LOG_ROWS = (
    ("Point", "Via", "MC", "Dist", "Time", "Lat", "Lon", "Wind", "FL"),
    ("LENDU", "DCT", "084", "31.2", "0:04", "N4512.5", "E01130.0", "280/45", "350"),
    ("PIKAR", "UM12", "091", "94.6", "0:13", "N4510.0", "E01344.1", "285/50", "350"),
    ("TOVIK", "UM12", "102", "141.3", "0:19", "N4455.2", "E01701.7", "290/55", "370"),
    ("SARNO", "DCT", "077", "88.9", "0:12", "N4517.8", "E01903.4", "280/60", "370"),
    ("XVOR", "DCT", "110", "61.0", "0:09", "N4449.0", "E02015.3", "270/40", "370"),
)


def mean_log(text: str) -> Any:
    """Cells line by line in capitals, in one form; a rule of signs is no line. The head says what its columns are:
    where they are taken for the same without it, it says no more."""
    text = re.sub(r"\b([NSEWF]) +(?=\d)", r"\1", text.upper())
    lines = [re.split(r"[\t|,;]|\s+", line) for line in text.splitlines() if not _HEAD.search(line)]
    rows = [[mean for cell in line if (mean := _mean_cell(cell)) not in ("", "DCT")] for line in lines]
    kept = [row for row in rows if any(re.sub(r"[-\s|+=_.*]", "", cell) for cell in row)]
    return sorted(row for row in kept if row[0] == "TOTAL"), [row for row in kept if row[0] != "TOTAL"]


_HEAD = re.compile(r"(?:PO|OI|IN|NT|VI|IA|MC|DI|IS|ST|TI|IM|ME|LA|AT|LO|ON|WI|ND|FL)[^\d]*$")


def _mean_cell(cell: str) -> str:
    """Without the blanks and signs that make no difference, and without zeros before a figure."""
    cell = re.sub(r"[\s\"']+", " ", cell).strip()
    cell = re.sub(r"^(?:-+|\.+)$", "DCT", cell)
    cell = re.sub(r"^\+(?=\d)|^0+(?=\d{1,3}\.)|(?<=^[NSEW]\d{2})[-:](?=\d)|(?<=^[EW]\d{3})[-:](?=\d)", "", cell)
    cell = re.sub(r"(?<=^\d)H(?=\d\d$)", ":", cell)
    cell = re.sub(r"^([NSEW]? ?\d{4,5})\.(\d)0*$", r"\1\2", cell)
    cell = re.sub(r"^[NE](?=\d{5,6}$)", "", cell)
    cell = re.sub(
        r"(?<=^\d{3})(?:/|0|/0)(?=\d\d$)|(?<=^\d{3})M$|^F(?=\d{3}$)|:+(?=:)|(?<=\d)::+(?=\d)|(?<=\d)\.$", "", cell
    )
    return re.sub(r"^[0:]+(?=\d)", "", cell)


NAV_LOGS = MutatedReader(
    "nav log",
    (
        "\n".join("\t".join(row) for row in _LOG_ROWS),
        "\n".join("|".join(row) for row in _LOG_ROWS),
        "\n".join("  ".join(cell.ljust(8) for cell in row).rstrip() for row in _LOG_ROWS),
        "\n".join(";".join(row) for row in (*_LOG_ROWS, ("Total", "", "", "417.0", "0:57"))),
    ),
    (*CHARACTERS, *change_parts("\n"), *change_parts("\t")),
    lambda text: read_inputs(text, "log"),
    mean_log,
)

# ---- pages


def mean_page(text: str) -> Any:
    """The lines of the route in their order, those around it in any; a rule of signs is none."""
    lines = [" ".join(line.replace("Route:", "Route: ").split()) for line in text.removeprefix("\ufeff").splitlines()]
    is_of_route = [bool(re.search(r"DCT|[A-Z]\d", line)) for line in lines]
    return [
        [line.upper() for line, kept in zip(lines, is_of_route, strict=True) if kept],
        sorted(line for line, kept in zip(lines, is_of_route, strict=True) if line.strip("-=_*.:") and not kept),
    ]


PAGES = MutatedReader(
    "page",
    (
        "Dear crew,\nplease find below the route of today:\n\nRoute: LENDU DCT PIKAR UM12 TOVIK\nKind regards, Ops\n",
        "Good morning.\nN0430F350 LENDU DCT PIKAR UM12 TOVIK\nDCT SARNO UL5 KEBUL\n\nThe weather looks fine to me.\n",
        "First one of the day\nLENDU DCT PIKAR\nand then the other\nSARNO UM12 TOVIK/N0450F370 DCT KEBUL\nthat was it",
    ),
    (*CHARACTERS, *change_parts("\n"), *change_parts(" ")),
    lambda text: read_inputs(text, "page"),
    mean_page,
)

# ---- FIXM

_FIXM = '<fx:Flight xmlns:fb="http://www.fixm.aero/base/4.3" xmlns:fx="http://www.fixm.aero/flight/4.3">{}</fx:Flight>'
_ELEMENT = (
    '<fx:element><fx:alongRouteDistance uom="NM">{nm}</fx:alongRouteDistance><fx:elementStartPoint>'
    "<fb:designatedPoint><fb:designator>{name}</fb:designator><fb:position><fb:pos>{pos}</fb:pos></fb:position>"
    "</fb:designatedPoint></fx:elementStartPoint><fx:routeDesignatorToNextElement><fx:{kind}>{via}</fx:{kind}>"
    "</fx:routeDesignatorToNextElement></fx:element>\n"
)
_ON_ROUTE = (
    ("LENDU", "10.0", "45.2 11.5", "otherRouteDesignator", "DIRECT"),
    ("PIKAR", "74.00", "45.1 13.7", "routeDesignator", "UM12"),
    ("TOVIK", "260.5", "44.9 17.0", "routeDesignator", "UM12"),
)
FIXM_TEXT = _FIXM.format(
    "\n<fx:arrival><fx:destinationAerodrome><fb:locationIndicator>XVOR</fb:locationIndicator>"
    "</fx:destinationAerodrome></fx:arrival>\n<fx:departure><fx:departureAerodrome><fb:locationIndicator>XVAL"
    "</fb:locationIndicator></fx:departureAerodrome><fx:estimatedOffBlockTime>2026-12-03T14:30:00Z"
    "</fx:estimatedOffBlockTime></fx:departure>\n<fx:flightRulesCategory>I</fx:flightRulesCategory>\n"
    "<fx:operator>XVA</fx:operator>\n<fx:routeTrajectoryGroup><fx:desired>\n"
    + "".join(_ELEMENT.format(name=name, nm=nm, pos=pos, kind=kind, via=via) for name, nm, pos, kind, via in _ON_ROUTE)
    + '<fx:routeInformation><fx:cruisingLevel><fb:flightLevel uom="FL">350</fb:flightLevel></fx:cruisingLevel>\n'
    '<fx:cruisingSpeed uom="KT">430</fx:cruisingSpeed>\n<fx:totalEstimatedElapsedTime>PT1H10M'
    "</fx:totalEstimatedElapsedTime></fx:routeInformation></fx:desired></fx:routeTrajectoryGroup>\n"
)


_BY_PARENT = ("locationIndicator", "designator")
"""What means one thing in one element and another in another."""


def mean_fixm(text: str) -> Any:
    """What stands in each element with its unit: on the route in order, beside it in any; what no check uses, once."""
    try:
        root = etree.fromstring(text.encode("utf-8", "replace"))
    except (etree.XMLSyntaxError, ValueError):
        return text
    on_route, beside = [], []
    for node in root.iter(etree.Element):
        names = [re.sub(r"\{.*\}", "", one.tag) for one in (node, *node.iterancestors())]
        texts = [node.text, *(one.tail for one in node)]
        if said := " ".join(" ".join(filter(None, texts)).upper().split()):
            value = (names[: 2 if names[0] in _BY_PARENT else 1], node.get("uom"), _mean_value(names[0], said))
            (on_route if "element" in names else beside).append(value)
    return on_route, sorted({str(one) for one in beside if one[2] == ""}), sorted(str(one) for one in beside if one[2])


def _mean_value(name: str, said: str) -> str:
    """A time and a position in one form; nothing of what no check uses."""
    if name == "estimatedOffBlockTime":
        moment = re.fullmatch(r"(\d{4})-0?(\d+)-0?(\d+)T(\d\d)[:H]?(\d\d)(?::\d\d(?:\.\d+)?)?Z?", said)
        return "-".join(moment.groups()) if moment else said
    if name == "pos" and re.fullmatch(r"-?\d+\.\d+ -?\d+\.\d+", said):
        fewest = min(len(part.partition(".")[2]) for part in said.split())
        return f"{[float(part) for part in said.split()]} {fewest}"
    return "" if name == "operator" else said


FIXM = MutatedReader(
    "FIXM",
    (FIXM_TEXT,),
    (*CHARACTERS, *change_parts("\n"), *change_parts(">")),
    lambda text: read_inputs(text, "flight.xml"),
    mean_fixm,
)

PLANS = (NAV_LOGS, PAGES, FIXM)
