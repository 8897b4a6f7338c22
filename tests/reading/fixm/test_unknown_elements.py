"""Nothing of a FIXM flight is stepped over: what is unknown, elsewhere, or there twice is named."""

import pytest
from lxml import etree
from mutated_plans import FIXM_TEXT
from mutated_readers import read_inputs

WEATHER = (
    "<fx:point4D><fx:level><fb:flightLevel uom='FL'>350</fb:flightLevel></fx:level><fx:metData><fx:temperature uom='C'>"
    "-50</fx:temperature><fx:windDirection uom='DEG'>270</fx:windDirection><fx:windSpeed uom='KT'>20</fx:windSpeed>"
    "</fx:metData><fx:time><fx:absoluteTime>2026-12-03T15:00:00Z</fx:absoluteTime></fx:time></fx:point4D></fx:element>"
)
TEXT = FIXM_TEXT.replace("</fx:element>", WEATHER).replace(">-50<", ">-40<", 1).replace(">-50<", ">-53<", 1)
UNKNOWN, OPERATOR = (f"{{http://www.fixm.aero/flight/4.3}}{name}" for name in ("unheardOf", "operator"))
NAME = "<fb:designator>PIKAR</fb:designator>"
CHANGE = '<fx:routeChange><fx:speed><fx:speed uom="KT">450</fx:speed></fx:speed></fx:routeChange>'


def read(text):
    ((found, *_),) = read_inputs(text, "flight.xml")
    return found


def named(text):
    found = read(text)
    return " ".join([*found.remarks, *(one.sentence for one in found.not_used)])


def nodes(text):
    root = etree.fromstring(text)
    return root, list(root.iter("{*}*"))


def test_what_is_unknown_is_named_wherever_it_stands():
    """An element and an attribute of no known name."""
    plain = read(TEXT)
    for number in range(len(nodes(TEXT)[1])):
        for kind in ("element", "attribute"):
            root, there = nodes(TEXT)
            if kind == "attribute":
                there[number].set("unheardOf", "1")
            elif len(there[number]) == 0:
                continue
            else:
                etree.SubElement(there[number], UNKNOWN).text = "1"
            text = etree.tostring(root, encoding="unicode")
            assert there[number].tag == OPERATOR or "unheardOf" in named(text), (kind, there[number].tag)
            assert (read(text).route, read(text).claims, read(text).wind) == (plain.route, plain.claims, plain.wind)


def test_each_leaf_that_is_read_says_something():
    """Take any leaf away, rename it, or let it stand twice: what is read differs, or what is named does."""
    plain = read_inputs(TEXT, "flight.xml")
    for number in range(len(nodes(TEXT)[1])):
        for what in ("remove", "rename", "double"):
            root, there = nodes(TEXT)
            node = there[number]
            if len(node) or (what, node.tag) == ("double", OPERATOR):
                continue  # what no check uses is named once
            if what == "remove":
                node.getparent().remove(node)
            elif what == "rename":
                node.tag += "x"
            else:
                node.addnext(etree.fromstring(etree.tostring(node, with_tail=False)))
            assert read_inputs(etree.tostring(root, encoding="unicode"), "flight.xml") != plain, (what, node.tag)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            "<fx:routeInformation>", "<fx:routeInformation><fx:element><fx:x>SARNO</fx:x></fx:element>",
            "Not used: element in routeInformation “SARNO”; nothing is read there.",
        ),
        (
            "<fx:operator>", "<fx:element><fx:x>SARNO</fx:x></fx:element><fx:operator>",
            "Not used: element in Flight “SARNO”; nothing is read there.",
        ),
        (
            "</fx:elementStartPoint>", "<fb:position><fb:pos>1 2</fb:pos></fb:position></fx:elementStartPoint>",
            "Not used: elementStartPoint/position/pos of 3 route elements; nothing is read there.",
        ),
        ("<fx:operator>", "<fx:designator>UM9</fx:designator><fx:operator>", "Flight/designator"),
        ("<fx:cruisingLevel>", "<fx:cruisingLevel/><fx:cruisingLevel>", "cruisingLevel (empty)"),
        ("<fx:element>", '<fx:element seqNum="1">', "Not used: seqNum “1”; the elements are read in the order"),
        ("<fb:position>", '<fb:position srsName="urn:ogc:def:crs:OGC:1.3:CRS84">', "Not used: pos “45.2 11.5”"),
        (
            "</fx:routeTrajectoryGroup>",
            "<fx:desired><fx:element/><fx:element/></fx:desired></fx:routeTrajectoryGroup>",
            "Not used: 2 route elements of a second route desired; the first is the one that is read.",
        ),
        (
            "</fx:elementStartPoint>", f"</fx:elementStartPoint>{CHANGE}",
            "Not used: the change to N0450 of route element 1; speed and level are needed for one.",
        ),
        (NAME, "", "Not used: the designator UM12 of route element 2; the point has no name"),
        (NAME, "", "Not used: the wind of route element 2; the point has no name."),
    ],
)  # fmt: skip
def test_it_is_named_with_its_place(old, new, says):
    assert says in named(TEXT.replace(old, new))


def test_a_speed_without_a_level_is_the_speed_of_the_flight():
    text = TEXT.replace('<fx:cruisingLevel><fb:flightLevel uom="FL">350</fb:flightLevel></fx:cruisingLevel>', "")
    assert (read(text).speed, read(text).level) == ("N0430", "")


def test_speed_and_level_beside_a_route_that_is_only_text():
    text = FIXM_TEXT[: FIXM_TEXT.index("<fx:element>")] + FIXM_TEXT[FIXM_TEXT.index("<fx:routeInformation>") :]
    found = read(
        text.replace("<fx:routeInformation>", "<fx:routeInformation><fx:routeText>LENDU DCT PIKAR</fx:routeText>")
    )
    assert (found.route, found.speed, found.level) == ("LENDU DCT PIKAR", "N0430", "F350")
