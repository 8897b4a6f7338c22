"""Published flight-plan messages read whole: every word of Item 15 is read, every ocean leg has its length.

Where only the route of a message is published (QFA8, NAT Doc 007, FIXM), it stands in a message whose other items
are made up. Lengths were computed with another geodesic library; tolerance is half the last digit printed.
"""

import datetime as dt

import pytest

from routecheck.model import ElapsedTime, WordKind
from routecheck.pipeline import assess
from routecheck.reading.inputs import read_input
from routecheck.settings import Settings

ACA101 = """(FPL-ACA101-IS
-B773/H-CHOV/C
-EGLL1400
-N0450F310 L9 UL9 STU285036/M082F310 UL9 LIMRI 52N020W 52N030W 50N040W 49N050W
-CYQX0455 CYYR
-EET/EISN0026 EGGX0111 020W0136 CYQX0228 040W0330 050W0415 SEL/FJEL)"""
"""ICAO Doc 4444, Appendix 3, 2.3.1."""
VFR_PLAN = "(FPL-RAQ-VG-C172/L-V/C-YBSU0540-N0115A035 DCT-YRED0021-DOF/160502 REG/RAQ)"
"""A public VFR sample message."""
MADE_UP = "(FPL-XVA1-{rules}S-B744/H-SDE2FGHIRWXY/LB1-{departure}0400-{route}-{destination}1519-{other})"
PACIFIC = MADE_UP.format(
    rules="I",
    departure="KDFW",
    destination="YBBN",
    route="""N0501F280 DCT ABI J4 INK/N0504F300 J50 ELP J26 HMO V2 GRN 2704N11627W 26N119W
2544N12000W 24N126W/M084F320 22N133W 19N139W 16N144W/M084F340 11N152W 06N159W/M084F360 01N166W 01S169W 0500S17435W
06S176W 12S176E/M084F380 18S168E 2125S16300E GUXIB R587 HARVS Q21 SAVER G329 BN DCT""",
    other="DLE/INK0100 26N119W0200",
)
"""FIXM 4.3.0 User Manual, sample message of QFA8: route, aerodromes and delays."""
ATLANTIC = MADE_UP.format(
    rules="I",
    departure="XVAL",
    destination="XVOR",
    route="""GELKI UP600 GOW/N0473F360 UN615 STN UN601 AKIVO UP60 ATSIX/M081F360 DCT 62N020W 63N030W 63N040W
62N050W 62N060W DCT TANTI/N0467F380 DCT FEDDY SCAI 5321N09000W/N0459F390 SCAI YRL/N0338F160 V304 VBI/N0466F410 J538 DLH
J89 BAE V63 JVL JVL4""",
    other="0",
)
"""NAT Doc 007, 2010 edition, Attachment 4: the route."""
ALL_FEATURES = MADE_UP.format(
    rules="Y",
    departure="XVAL",
    destination="XVOR",
    route="N0430F220 GORLO2N 3910N02230W/N0430F300 DCT C/IVA/N0430F300F320 B9 ENTRA VFR T",
    other="0",
)
SID_AND_STAR = MADE_UP.format(
    rules="I",
    departure="XVAL",
    destination="XVOR",
    route="MRSSH2 ZALEA DCT SWB DCT HRV Q105 BLVNS Y290 BAGGS SSCOT5",
    other="0",
)
"""These two: FIXM 4.3.0 User Manual."""
PLANS = [ACA101, VFR_PLAN, PACIFIC, ATLANTIC, ALL_FEATURES, SID_AND_STAR]


@pytest.fixture(scope="module")
def answer(demo):
    def made(message):
        (route_input,) = read_input(message.encode(), "message.txt")
        return assess(route_input, demo, Settings(), dt.date(2026, 12, 3))

    return made


@pytest.mark.parametrize("message", PLANS)
def test_every_word_is_read(answer, message):
    route = answer(message).route
    assert [word.text for word in route.parsed.words if word.kind is WordKind.UNREAD or word.bad] == []
    pasted = route.route_input.pasted
    for word in route.parsed.words:
        found = pasted.find_span(word.span)
        assert pasted.text[found.start : found.end] == route.route_input.route[word.span.start : word.span.end]


def test_the_items_of_the_message_of_doc_4444(answer):
    given = answer(ACA101).route.route_input
    assert (given.name, given.rules, given.departure, given.destination) == ("ACA101", "I", "EGLL", "CYQX")
    assert (given.alternate, given.equipment, given.stated_totals.time_min) == (("CYYR",), "CHOV", 295.0)
    names, minutes = zip(*((one.at, one.time_min) for one in given.elapsed), strict=True)
    assert names == ("EISN", "EGGX", "020W", "CYQX", "040W", "050W")
    assert minutes == (26, 71, 96, 148, 210, 255)


def test_the_items_of_the_others(answer):
    assert answer(VFR_PLAN).route.route_input.date == dt.date(2016, 5, 2)
    assert answer(PACIFIC).route.route_input.delays == (ElapsedTime("INK", 60.0), ElapsedTime("26N119W", 120.0))


@pytest.mark.parametrize(
    ("message", "first", "last", "nm"),
    [
        (ACA101, "52N020W", "49N050W", [370.5, 397.2, 395.4]),
        (ATLANTIC, "62N020W", "62N060W", [284.4, 273.3, 284.4, 282.6]),
    ],
)
def test_lengths_of_ocean_legs(answer, message, first, last, nm):
    assert lengths(answer(message).route, first, last) == pytest.approx(nm, abs=0.05)


@pytest.mark.parametrize(
    ("message", "first", "last", "nm"),
    [
        (ACA101, "52N020W", "49N050W", 1163.2),
        (ATLANTIC, "62N020W", "62N060W", 1124.8),
        (PACIFIC, "2704N11627W", "2125S16300E", 5521.0),
    ],
)
def test_lengths_of_oceans(answer, message, first, last, nm):
    assert sum(lengths(answer(message).route, first, last)) == pytest.approx(nm, abs=0.05)


def test_the_rules_of_a_message_are_checked(answer):
    """Rules Y need the change to VFR, which the FIXM sample route has."""
    assert "rules-change" not in {finding.check for finding in answer(ALL_FEATURES).findings}
    without = answer(ALL_FEATURES.replace(" VFR T", " T"))
    assert "rules-change" in {finding.check for finding in without.findings}


def test_what_an_old_message_lacks_is_doubted(answer):
    """Item 10 of 2008 has no letter for RVSM where FL310 is flown today, nor R and PBN/ for UL9."""
    found = [one.message for one in answer(ACA101).findings if one.check == "equipment-for-route"]
    assert found[0] == "FL310 needs approval for RVSM, and Item 10 has no W."
    assert found[1].endswith("Item 10 has no R and no PBN/ is stated.")


def lengths(route, first, last):
    names = [point.text for point in route.points]
    return [leg.distance_nm for leg in route.legs[names.index(first) : names.index(last)]]
