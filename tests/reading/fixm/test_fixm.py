"""FIXM: the official examples, the flight around a route, several routes, and XML that is refused."""

import datetime as dt
import itertools
import time

import pytest
from lxml import etree

from routecheck.model import Weight, Wind
from routecheck.pipeline import assess
from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.inputs import read_input
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
HEAD = '<fx:Flight xmlns:fb="http://www.fixm.aero/base/4.3" xmlns:fx="http://www.fixm.aero/flight/4.3">'


def read_one(data, group="", name="flight.xml"):
    data = data if isinstance(data, bytes) else data.encode()
    (route_input,) = read_input(data, name, None, ReadingChoices(group=group))
    return route_input


def element(name, nm, *, lat="", via="DIRECT", kind="otherRouteDesignator", point="designatedPoint"):
    where = f"<fb:position><fb:pos>{lat}</fb:pos></fb:position>" if lat else ""
    start = f"<fx:elementStartPoint><fb:{point}><fb:designator>{name}</fb:designator>{where}</fb:{point}>"
    on = f"<fx:routeDesignatorToNextElement><fx:{kind}>{via}</fx:{kind}></fx:routeDesignatorToNextElement>"
    distance = f'<fx:alongRouteDistance uom="NM">{nm}</fx:alongRouteDistance>'
    return f"<fx:element>{distance}{start}</fx:elementStartPoint>{on}</fx:element>"


def group(name, *elements, information=""):
    return f"<fx:{name}>{''.join(elements)}<fx:routeInformation>{information}</fx:routeInformation></fx:{name}>"


def flight(*groups):
    return (
        f"{HEAD}<fx:arrival><fx:destinationAerodrome><fb:locationIndicator>XVOR</fb:locationIndicator>"
        "</fx:destinationAerodrome></fx:arrival><fx:departure><fx:departureAerodrome><fb:locationIndicator>XVAL"
        "</fb:locationIndicator></fx:departureAerodrome><fx:estimatedOffBlockTime>2026-12-03T14:30:00Z"
        "</fx:estimatedOffBlockTime></fx:departure><fx:flightRulesCategory>I</fx:flightRulesCategory>"
        f"<fx:operator>XVA</fx:operator><fx:routeTrajectoryGroup>{''.join(groups)}</fx:routeTrajectoryGroup></fx:Flight>"
    )


DESIRED = group(
    "desired",
    element("LENDU", 10.0),
    element("PIKAR", "74.00", via="UM12", kind="routeDesignator"),
    element("TOVIK", 260.5),
    information='<fx:cruisingLevel><fb:flightLevel uom="FL">350</fb:flightLevel></fx:cruisingLevel>'
    '<fx:cruisingSpeed uom="KT">430</fx:cruisingSpeed>'
    "<fx:totalEstimatedElapsedTime>PT1H10M</fx:totalEstimatedElapsedTime>",
)
AGREED = group("agreed", element("SARNO", 10.0), element("KIVAN", 74.0))


def test_a_flight_with_its_route():
    given = read_one(flight(DESIRED))
    assert given.route == "N0430F350 LENDU DCT PIKAR UM12 TOVIK DCT"[: len(given.route)]
    assert (given.departure, given.destination, given.rules, given.date) == ("XVAL", "XVOR", "I", DAY)
    assert given.stated_totals.time_min == 70.0
    assert [(claim.to, claim.distance_so_far_nm) for claim in given.claims] == [
        ("LENDU", 10.0), ("PIKAR", 74.0), ("TOVIK", 260.5)
    ]  # fmt: skip
    assert given.claims[1].half("distance_so_far_nm") == 0.005
    assert given.remarks == ("Read, and used by no check: operator.",)


def test_several_routes_are_asked_for_and_never_mixed():
    both = flight(DESIRED, AGREED)
    asked = read_one(both)
    assert asked.unread == "the message holds 2 routes, desired (3 elements) and agreed (2 elements): say which"
    (by_option,) = read_input(both.encode(), "", "fixm", ReadingChoices(by_option=True))
    assert by_option.unread == f"{asked.unread} with --group"
    assert read_one(both, "agreed").route.startswith("SARNO DCT KIVAN")
    assert "SARNO" not in read_one(both, "desired").route
    assert "Not used: the route agreed; desired is the one chosen." in [
        one.sentence for one in read_one(both, "desired").not_used
    ]
    assert read_one(both, "filed").unread == "the message has no route “filed”, only desired and agreed"


def test_a_route_that_is_only_text():
    given = read_one(flight(group("filed", information="<fx:routeText>LENDU DCT PIKAR</fx:routeText>")))
    assert given.route == "LENDU DCT PIKAR"


@pytest.mark.parametrize(
    ("speed", "level", "words"),
    [
        (
            '<fx:cruisingSpeed uom="MACH">0.82</fx:cruisingSpeed>',
            '<fb:flightLevel uom="FL">350</fb:flightLevel>',
            "M082F350",
        ),
        (
            '<fx:cruisingSpeed uom="KM_H">830</fx:cruisingSpeed>',
            '<fb:altitude uom="M">8400</fb:altitude>',
            "K0830M0840",
        ),
        ('<fx:cruisingSpeed uom="KT">160</fx:cruisingSpeed>', '<fb:altitude uom="FT">5000</fb:altitude>', "N0160A050"),
        (
            '<fx:cruisingSpeed uom="KT">160</fx:cruisingSpeed>',
            '<fb:flightLevel uom="SM">1130</fb:flightLevel>',
            "N0160S1130",
        ),
    ],
)
def test_units_of_speed_and_level(speed, level, words):
    given = read_one(
        flight(
            group("desired", element("LENDU", 1), information=f"<fx:cruisingLevel>{level}</fx:cruisingLevel>{speed}")
        )
    )
    assert given.route.split()[0] == words


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("<?xml version='1.0'?><gpx><trk/></gpx>", "this is XML, but no flight of FIXM: it begins with gpx"),
        (f"{HEAD}</fx:Flight>", "the FIXM message carries no route"),
        (f"{HEAD}<fx:departure>", "the XML is broken: "),
        ("<a><b></a>", "the XML is broken: "),
        ('<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]><x>&e;</x>', "the XML has a document type (DOCTYPE)"),
        ("<?xml version='1.0'?><x>&e;</x>", "the XML is broken: "),
        ("<?xml version='1.0'?><x xmlns='http://a}b'/>", "the XML is broken: "),
    ],
)
def test_what_is_no_flight_is_refused_in_a_sentence(text, says):
    assert read_one(text).unread.startswith(says)


def test_a_document_type_in_two_bytes_a_letter_is_seen():
    text = "<?xml version='1.0' encoding='utf-16'?><!DOCTYPE x><x/>"
    assert "DOCTYPE" in read_one(text.encode("utf-16")).unread


def test_a_bomb_of_entities_and_a_deep_tree_cost_nothing():
    entities = "".join(f'<!ENTITY e{i + 1} "{f"&e{i};" * 10}">' for i in range(9))
    begun = time.perf_counter()
    assert "DOCTYPE" in read_one(f'<!DOCTYPE x [<!ENTITY e0 "lol">{entities}]><x>&e9;</x>').unread
    assert "broken" in read_one("<a>" * 100_000).unread
    assert time.perf_counter() - begun < 2.0


def test_what_would_take_memory_without_end_is_refused():
    """Whatever is kept has its bound: what one element of the route holds, names, values that cannot be read."""
    wide = group("desired", f"<fx:element>{'<fx:y>1</fx:y>' * 5_100}</fx:element>")
    assert read_one(flight(wide)).unread == "an element of the XML holds more than 5,000 others: no flight does"
    names = "".join(f"<fx:n{i}/>" for i in range(2_010))
    assert read_one(flight(group("desired", names))).unread.startswith("the XML has more than 2,000 names of elements")
    unread = read_one(flight(group("desired", *[element("LENDU", "far")] * 1_030)))
    assert len(unread.not_used) == 1_001
    assert unread.not_used[-1].sentence == "Not used: 30 more values; the first 1,000 are named."
    unnamed = read_one(flight(group("desired", *[met("", 1, 350, (270, 20, "KT"), -50)] * 1_030)))
    assert "30 more values" in unnamed.not_used[1_000].sentence


@pytest.mark.slow
def test_a_long_route_is_cut_and_said():
    given = read_one(flight(group("desired", *[element("LENDU", 1)] * 10_003)))
    assert [one.sentence for one in given.not_used] == [
        "Not used: 3 route elements; of one route no more than 10,000 are read."
    ]


def met(name, nm, level, wind, temperature):
    """An element with its trajectory: level, wind and temperature, as FIXM 4.3 has them."""
    point = (
        f"<fx:point4D><fx:level><fb:flightLevel uom='FL'>{level}</fb:flightLevel></fx:level><fx:metData>"
        f"<fx:temperature uom='C'>{temperature}</fx:temperature>"
        f"<fx:windDirection uom='DEG'>{wind[0]}</fx:windDirection>"
        f"<fx:windSpeed uom='{wind[2]}'>{wind[1]}</fx:windSpeed></fx:metData></fx:point4D></fx:element>"
    )
    return element(name, nm).removesuffix("</fx:element>") + point


def test_winds_temperatures_and_levels_of_the_trajectory_are_used():
    given = read_one(
        flight(
            group(
                "desired",
                met("LENDU", 0, 350, (270, 20, "M_SEC"), -49.3),
                met("PIKAR", 94, 350, (280, 25, "M_SEC"), -49.3),
                met("TOVIK", 260, 180, (290, 50, "KT"), -10),
            )
        )
    )
    assert given.wind == (Wind(280.0, 48.6, to="PIKAR"), Wind(290.0, 50.0, to="TOVIK"))
    assert given.isa_deviation_c == pytest.approx(5.0, abs=0.1)  # -54.3 °C at FL350 by the standard atmosphere
    assert [claim.level for claim in given.claims] == ["F350", "F350", "F180"]
    assert "temperature" not in given.remarks[-1]


@pytest.mark.parametrize("wind", [(270, "x", "KT"), (270, 20, "MPH"), (370, 20, "KT"), (270, -1, "KT")])
def test_a_wind_that_is_none_is_not_used(wind):
    given = read_one(flight(group("desired", element("LENDU", "far"), met("PIKAR", 94, 350, wind, -50))))
    assert given.wind == ()
    assert {one.name.split()[0] for one in given.not_used} == {"alongRouteDistance", "windDirection", "windSpeed"}


def test_the_names_of_4_2_are_the_same():
    assert read_one(flight(DESIRED).replace("/4.3", "/4.2")).route == read_one(flight(DESIRED)).route


def leaves(data):
    """The name of every element that has text, read here on its own."""
    found = set()
    for node in etree.fromstring(data).iter():
        if isinstance(node.tag, str) and not len(node) and (node.text or "").strip():
            found.add(etree.QName(node).localname)
    return found


USED = {
    *(
        "locationIndicator",
        "estimatedOffBlockTime",
        "aircraftIdentification",
        "flightRulesCategory",
        "alongRouteDistance",
    ),
    *(
        "designator",
        "pos",
        "routeDesignator",
        "otherRouteDesignator",
        "flightLevel",
        "altitude",
        "cruisingSpeed",
        "speed",
    ),
    *("totalEstimatedElapsedTime", "absoluteTime", "relativeTimeFromInitialPredictionPoint", "performanceBasedCode"),
    *("navigationCapabilityCode", "communicationCapabilityCode", "datalinkCommunicationCapabilityCode"),
    *("standardCapabilities", "windDirection", "windSpeed", "temperature"),
}


# ---- the official examples


@pytest.fixture(scope="module")
def example(shared_data):
    def made(name):
        (path,) = (shared_data / "world" / "fixm-4.3").glob(f"{name}*.xml")
        return read_one(path.read_bytes(), name=path.name)

    return made


@pytest.fixture(scope="module")
def flown(example, demo):
    def made(name, database=demo):
        return assess(example(name), database, Settings(), DAY)

    return made


EXAMPLES = [
    ("C-4", 22),
    ("C-5", 52),
    ("C-6", 86),
    ("C-7", 107),
    ("C-9", 22),
    ("C-11_Flight_Data_Response_EXAMPLE_001", 52),
]


@pytest.mark.parametrize(("name", "points"), EXAMPLES)
def test_every_element_has_its_point_and_every_leg_its_length(flown, name, points):
    route = flown(name).route
    assert len(route.points) == points
    assert [leg.gap for leg in route.legs if leg.distance_nm is None] == []


def test_the_lengths_of_c_4(flown):
    """17 of 21 legs agree with geodesics within 0.03 NM; the way to land is longer along its procedure."""
    answer = flown("C-4")
    route, claims = answer.route, answer.route.route_input.claims
    stated = [b.distance_so_far_nm - a.distance_so_far_nm for a, b in itertools.pairwise(claims)]
    apart = [abs(nm - leg.distance_nm) for nm, leg in zip(stated, route.legs, strict=True)]
    assert sum(nm < 0.035 for nm in apart) == 17
    assert stated[-1] - route.legs[-1].distance_nm == pytest.approx(4.95, abs=0.05)
    assert "claimed-distance" not in {finding.check for finding in answer.findings}


@pytest.mark.parametrize("name", [name for name, _ in EXAMPLES])
def test_every_element_is_used_or_named(example, shared_data, name):
    (path,) = (shared_data / "world" / "fixm-4.3").glob(f"{name}*.xml")
    named = " ".join(example(name).remarks)
    # The kind of the message and the text of a route beside its elements are said in sentences of their own.
    silent = {leaf for leaf in leaves(path.read_bytes()) - USED - {"type", "routeText"} if leaf not in named}
    assert silent == set()


@pytest.mark.parametrize("name", ["C-1_", "C-8", "C-10", "C-11_Flight_Data_Response_EXAMPLE_002", "C-12", "C-13"])
def test_messages_without_a_route(example, name):
    assert example(name).unread.endswith("carries no route")


def message_of(answer, check):
    return next(finding.message for finding in answer.findings if finding.check == check)


def test_the_errors_of_the_manual_are_found_from_its_own_positions(flown):
    found = message_of(flown("example_data_FFICE_IG_E-3.7_expanded"), "claimed-distance")
    assert found.startswith("The plan gives KHGR–HGR 6.12 NM; computed it is 6.03 NM.")
    answer = flown("example_data_FFICE_IG_E-3.7_trajectory")
    finding = next(one for one in answer.findings if one.check == "position-disagrees")
    assert finding.message.startswith("HGR is stated at 39°42.5′N 077°43.6′W")
    assert finding.weight is Weight.WRONG


def test_and_of_the_basic_route_with_data(flown, country):
    found = message_of(flown("example_data_FFICE_IG_E-3.7_basic", country), "claimed-distance")
    assert found.startswith("The plan gives KHGR–HGR 6.12 NM")
