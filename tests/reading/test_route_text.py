"""The forms of Item 15, read with their values. Published examples carry their source.

Sources, as compiled in the project's list of published values: ICAO Doc 4444 (PANS-ATM) Appendix 2, Item 15, through
several concordant copies (second hand); ICAO Doc 4444 Appendix 3 (second hand); FIXM User Manual 4.3.0 (read);
NAT Doc 007 edition 2010 Attachment 4 (read); FAA AIM Appendix 4 (read).
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from read_words import only, said, words

from routecheck.model import Position, PositionForm, Span, WordKind
from routecheck.reading import forms

DOC_4444_POINTS = [  # ICAO Doc 4444 Appendix 2, Item 15 (c): designators and points, its own examples
    ("BCN1", WordKind.NAME),
    ("B1", WordKind.NAME),
    ("R14", WordKind.NAME),
    ("UB10", WordKind.NAME),
    ("KODAP2A", WordKind.NAME),
    ("LN", WordKind.NAME),
    ("MAY", WordKind.NAME),
    ("HADDY", WordKind.NAME),
    ("46N078W", WordKind.POSITION),
    ("4620N07805W", WordKind.POSITION),
    ("DUB180040", WordKind.RADIAL_DISTANCE),
    ("DCT", WordKind.DIRECT),
    ("VFR", WordKind.RULES),
    ("IFR", WordKind.RULES),
    ("T", WordKind.TRUNCATION),  # FIXM User Manual 4.3.0
]
DOC_4444_CHANGES = [  # ICAO Doc 4444 Appendix 2, Item 15 (c), change of speed or level, its own examples
    ("LN/N0284A045", "N0284", "A045"),
    ("MAY/N0305F330", "N0305", "F330"),
    ("HADDY/N0420F330", "N0420", "F330"),
    ("4602N07805W/N0500F350", "N0500", "F350"),
    ("46N078W/M082F330", "M082", "F330"),
    ("DUB180040/N0350M0840", "N0350", "M0840"),
]
DOC_4444_CLIMBS = [  # ICAO Doc 4444 Appendix 2, Item 15 (c), cruise climb, its own examples
    ("C/48N050W/M082F290F350", "M082", "F290F350"),
    ("C/48N050W/M082F290PLUS", "M082", "F290PLUS"),
    ("C/52N050W/M220F580F620", "M220", "F580F620"),
]
DOC_4444_SPEEDS = ["K0830", "N0485", "M082"]  # ICAO Doc 4444 Appendix 2, Item 15 (a), its own examples
DOC_4444_LEVELS = ["F085", "F330", "S1130", "A045", "A100", "M0840", "VFR"]  # the same, Item 15 (b)


@pytest.mark.parametrize(("text", "kind"), DOC_4444_POINTS)
def test_words_of_the_standard(text, kind):
    word = only(text)
    assert (word.kind, word.text, word.bad, word.why, word.attached) == (kind, text, "", "", False)


@pytest.mark.parametrize(("text", "speed", "level"), DOC_4444_CHANGES)
def test_changes_of_the_standard(text, speed, level):
    point, change = words(text)
    assert f"{point.text}/{change.text}" == text
    assert (change.kind, change.attached, change.bad) == (WordKind.CHANGE, True, "")
    assert (change.speed, change.level) == (speed, level)


@pytest.mark.parametrize(("text", "speed", "level"), DOC_4444_CLIMBS)
def test_cruise_climbs_of_the_standard(text, speed, level):
    letter, point, change = words(text)
    assert (letter.text, letter.kind, letter.attached) == ("C", WordKind.CRUISE_CLIMB, False)
    assert (point.kind, point.attached) == (WordKind.POSITION, False)
    assert (change.kind, change.attached, change.bad) == (WordKind.CHANGE, True, "")
    assert (change.speed, change.level) == (speed, level)


@pytest.mark.parametrize("speed", DOC_4444_SPEEDS)
@pytest.mark.parametrize("level", DOC_4444_LEVELS)
def test_first_element(speed, level):
    first, point = words(f"{speed}{level} LN")
    assert (first.kind, first.speed, first.level, first.bad) == (WordKind.CHANGE, speed, level, "")
    assert not first.attached
    assert point.kind is WordKind.NAME


def test_change_of_rules():
    # ICAO Doc 4444 Appendix 2, Item 15 (c), change of flight rules: its two examples.
    assert said("LN VFR") == ["LN name", "VFR flight rules"]
    assert said("LN/N0284A050 IFR") == ["LN name", "+N0284A050 speed and level", "IFR flight rules"]
    assert said("LN/VFR") == ["LN name", "+VFR flight rules"]


# ---- whole routes

ROUTES = {
    "ICAO Doc 4444 Appendix 3, 2.3.1 (second hand)": (
        "N0450F310 L9 UL9 STU285036/M082F310 UL9 LIMRI 52N020W 52N030W 50N040W 49N050W"
    ),
    "FIXM User Manual 4.3.0, all features": (
        "N0430F220 GORLO2N 3910N02230W/N0430F300 DCT C/IVA/N0430F300F320 B9 ENTRA VFR T"
    ),
    "FIXM User Manual 4.3.0, procedures": "MRSSH2 ZALEA DCT SWB DCT HRV Q105 BLVNS Y290 BAGGS SSCOT5",
    "public Pacific sample message (second hand)": (
        "N0501F280 DCT ABI J4 INK/N0504F300 J50 ELP J26 HMO V2 GRN 2704N11627W 26N119W 2544N12000W 24N126W/M084F320 "
        "22N133W 19N139W 16N144W/M084F340 11N152W 06N159W/M084F360 01N166W 01S169W 0500S17435W 06S176W "
        "12S176E/M084F380 18S168E 2125S16300E GUXIB R587 HARVS Q21 SAVER G329 BN DCT"
    ),
    "NAT Doc 007 edition 2010 Attachment 4": (
        "GELKI UP600 GOW/N0473F360 UN615 STN UN601 AKIVO UP60 ATSIX/M081F360 DCT 62N020W 63N030W 63N040W 62N050W "
        "62N060W DCT TANTI/N0467F380 DCT FEDDY SCAI 5321N09000W/N0459F390 SCAI YRL/N0338F160 V304 VBI/N0466F410 J538 "
        "DLH J89 BAE V63 JVL JVL4"
    ),
    "FAA AIM Appendix 4, without its own near miss": "FLACK DCT IRW DCT",
    "short VFR message (second hand)": "N0115A035 DCT",
}


@pytest.mark.parametrize("text", ROUTES.values(), ids=ROUTES)
def test_published_routes_are_read_whole(text):
    found = words(text)
    assert [word.text for word in found] == text.replace("/", " ").split()
    assert [word for word in found if word.bad or word.why] == []


def test_kinds_of_the_route_of_the_standard():
    assert said(next(iter(ROUTES.values()))) == [
        "N0450F310 speed and level",
        "L9 name",
        "UL9 name",
        "STU285036 radial and distance",
        "+M082F310 speed and level",
        "UL9 name",
        "LIMRI name",
        "52N020W position",
        "52N030W position",
        "50N040W position",
        "49N050W position",
    ]


# ---- values

POSITIONS = [
    ("46N078W", 46, -78, PositionForm.DEGREES, 0),
    ("46S078E", -46, 78, PositionForm.DEGREES, 0),
    ("4620N07805W", 46 + 20 / 60, -78 - 5 / 60, PositionForm.MINUTES, 0.5 / 60),
    ("0500S17435W", -5, -174 - 35 / 60, PositionForm.MINUTES, 0.5 / 60),
    ("90N180W", 90, -180, PositionForm.DEGREES, 0),
    ("9000S18000E", -90, 180, PositionForm.MINUTES, 0.5 / 60),
]


@pytest.mark.parametrize(("text", "lat", "lon", "form", "precision"), POSITIONS)
def test_positions_have_values(text, lat, lon, form, precision):
    assert only(text).position == Position(pytest.approx(lat), pytest.approx(lon), form, precision)


def test_the_zero_position_has_no_negative_zero():
    assert str(only("00S000W").position.lat) == "0.0"
    assert str(only("00S000W").position.lon) == "0.0"


RADIALS = [
    ("DUB180040", "DUB", 180, 40),
    ("STU285036", "STU", 285, 36),
    ("HADDY180040", "HADDY", 180, 40),
    ("VNY095010", "VNY", 95, 10),
    ("VNY095/010", "VNY", 95, 10),
    ("SLI341/19", "SLI", 341, 19),
    ("KD54U180040", "KD54U", 180, 40),
    ("DUB360001", "DUB", 0, 1),  # 360 and 000 are one bearing: both taken, one value kept
    ("DUB000999", "DUB", 0, 999),
]


@pytest.mark.parametrize(("text", "ident", "bearing", "distance"), RADIALS)
def test_radial_and_distance(text, ident, bearing, distance):
    word = only(text)
    assert (word.kind, word.text, word.bad) == (WordKind.RADIAL_DISTANCE, text, "")
    assert (word.ident, word.bearing_deg, word.distance_nm) == (ident, bearing, distance)


@pytest.mark.parametrize(
    ("text", "ident", "bearing"), [("SLI341", "SLI", 341), ("PVD143", "PVD", 143), ("UL180", "UL", 180)]
)
def test_radial(text, ident, bearing):
    word = only(text)
    assert (word.kind, word.ident, word.bearing_deg, word.distance_nm) == (WordKind.RADIAL, ident, bearing, None)


IMPOSSIBLE = [
    ("4675N07805W", WordKind.POSITION, "75 minutes"),
    ("4620N07860W", WordKind.POSITION, "60 minutes"),
    ("91N010W", WordKind.POSITION, "latitude of more than 90"),
    ("9001N01000W", WordKind.POSITION, "latitude of more than 90"),
    ("46N181W", WordKind.POSITION, "longitude of more than 180"),
    ("4600N18001W", WordKind.POSITION, "longitude of more than 180"),
    ("DUB361040", WordKind.RADIAL_DISTANCE, "bearing of 361"),
    ("VNY400/010", WordKind.RADIAL_DISTANCE, "bearing of 400"),
    ("DUB180000", WordKind.RADIAL_DISTANCE, "distance of zero"),
    ("SLI400", WordKind.RADIAL, "bearing of 400"),
]


@pytest.mark.parametrize(("text", "kind", "bad"), IMPOSSIBLE)
def test_impossible_values(text, kind, bad):
    word = only(text)
    assert word.kind is kind
    assert bad in word.bad
    assert (word.position, word.bearing_deg, word.distance_nm, word.why) == (None, None, None, "")


# ---- names and what looks like something else

NAMES = [
    "L18",
    "F70",
    "00AK",
    "1B1",
    "46N",
    "UN615",
    "M201",
    "M329",
    "A100",
    "V487",
    "SSCOT5",
    "N5050",
    "5050N",
    "NAT",
    "X",
]


@pytest.mark.parametrize("text", NAMES)
def test_location_identifiers_airways_and_short_codes_are_names(text):
    assert only(text).kind is WordKind.NAME
    assert words(text)[0].kind is WordKind.NAME


def test_organised_tracks():
    assert said("NATB") == ["NATB organised track"]
    assert said("NAT B DCT") == ["NAT B organised track", "DCT direct"]
    assert [word.ident for word in words("NATB nat b")] == ["B", "B"]


def test_airports_and_runways_at_the_ends():
    assert said("egll/27R DCT LN DCT XVAL/RW09") == [
        "EGLL name",
        "+27R runway",
        "DCT direct",
        "LN name",
        "DCT direct",
        "XVAL name",
        "+09 runway",
    ]
    assert [word.text for word in words("XVAL/9L XVAL/RWY27R XVAL/36C")][1::2] == ["09L", "27R", "36C"]


@pytest.mark.parametrize("runway", ["37", "00", "RW44L"])
def test_no_such_runway(runway):
    _, word = words(f"XVAL/{runway}")
    assert (word.kind, word.attached) == (WordKind.UNREAD, True)
    assert "01 to 36" in word.why


# ---- separators


def test_dots():
    assert said("ABI..INK") == ["ABI name", ".. direct", "INK name"]
    assert said("NAME3.TRANS ABI.J4.INK") == ["NAME3 name", "TRANS name", "ABI name", "J4 name", "INK name"]
    assert words("ABI..INK")[1].span.start == 3
    assert words("ABI..INK")[1].span.end == 5


@pytest.mark.parametrize(
    "signs", ["---", "???", "?", "*", "—", "_____", "/", "//", "////", "#", "→", "=", "-,-", "(?)"]
)
def test_signs_alone_are_a_word_that_cannot_be_read(signs):
    unread = words(f"ABI {signs} INK")[1]
    assert (unread.kind, "left out" in unread.why) == (WordKind.UNREAD, True)
    assert len(words(f"ABI {signs} INK")) == 3


@pytest.mark.parametrize("word", ["-INK", "# INK", "INK?", "INK/", "/INK", "*INK*", "INK–", "INK!", "_INK", "INK="])
def test_a_sign_at_a_word_is_never_dropped(word):
    assert WordKind.UNREAD in [one.kind for one in words(f"ABI {word}")]


def test_the_hyphen_that_opens_item_15_is_none_of_its_words():
    assert said("-N0450F310 ABI") == ["N0450F310 speed and level", "ABI name"]
    assert said(" -ABI -INK") == ["-ABI unread", "-INK unread"]


@pytest.mark.parametrize("dots", ["...", "....", "…", " ... ", ".…"])
def test_more_dots_are_something_left_out(dots):
    assert [word.kind for word in words(f"ABI{dots}INK")] == [WordKind.NAME, WordKind.UNREAD, WordKind.NAME]
    assert "left out" in words(f"ABI{dots}INK")[1].why


@pytest.mark.parametrize(
    "blank", [" ", "+", "\n", "\r\n", "\t", "\u00a0", "\u2009", "\u3000", "\u200b", " + ", "\x00", "\u2028"]
)
def test_blanks_of_every_kind(blank):
    assert said(f"ABI{blank}J4{blank}INK") == ["ABI name", "J4 name", "INK name"]


@pytest.mark.parametrize("before", ["(", "“", "«", '"', "[", "\ufeff", "\u200e"])
@pytest.mark.parametrize("behind", [",", ";", ":", ")", "”", "»", "'", "]", ".", "\u00a0", "\u00ad"])
def test_punctuation_at_the_ends(before, behind):
    (word,) = words(f"{before}abi{behind}")
    assert (word.text, word.kind) == ("ABI", WordKind.NAME)
    assert (word.span.start, word.span.end) == (1, 4)


def test_lower_case_keeps_every_place():
    text = "ßabi İ ŉ lendu/n0430f350"
    assert [text[w.span.start : w.span.end] for w in words(text)] == ["ßabi", "İ", "ŉ", "lendu", "n0430f350"]
    assert words(text)[-1].speed == "N0430"


# ---- slips that no form gives away

SLIPS = [  # computed variants of the route of ICAO Doc 4444 Appendix 3, from the project's list of published values
    "52N020W 52N030W 51N040W 49N050W",
    "52N020W 50N040W 49N050W",
    "52N020W 5230N03000W 50N040W 49N050W",
    "52N020W 52N030W 50N030W 49N050W",
    "52N020W 50N040W 52N030W 49N050W",
    "52N020W 52N030E 50N040W 49N050W",
]


@pytest.mark.parametrize("text", SLIPS)
def test_a_slip_of_right_form_is_read_as_typed(text):
    found = words(text)
    assert [(word.text, word.kind, word.bad) for word in found] == [(t, WordKind.POSITION, "") for t in text.split()]


def test_united_states_forms():
    # FAA AIM Appendix 4 (read): a route of fixes; DEP/ is Item 18. NRS waypoint KD54U: second hand.
    assert said("FLACK DCT IRW KD54U") == ["FLACK name", "DCT direct", "IRW name", "KD54U name"]
    for text in ("DEP/EMI211017", "DEP/3925N07722W"):
        assert "DEP/ belongs to Item 18" in only(text).why


@given(st.from_regex(forms.SURE_NAME, fullmatch=True))
def test_what_is_surely_a_name_fits_none_of_the_other_forms(text):
    """Looked at the long way round, through every form and near miss, it is a name too."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(forms, "SURE_NAME", re.compile("(?!)"))
        assert forms.read_form(text, Span(0, len(text))).kind is WordKind.NAME


@pytest.mark.parametrize("text", ["F123", "M023", "NATA", "T", "DCT", "VFR", "DIRECT"])
def test_what_may_be_something_else_is_not_taken_for_a_name_at_once(text):
    assert not forms.SURE_NAME.fullmatch(text)
