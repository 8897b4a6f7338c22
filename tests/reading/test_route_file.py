"""The route file: all its keys, every wrong one said, and a rewrite that keeps what the user wrote."""

import datetime as dt
import tomllib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import Accepted, AltitudeWindow, Change, Claim, Role, RouteInput, Wind
from routecheck.reading.off_block import to_utc
from routecheck.reading.route_file import read_route_file, write_route_file

FULL = """\
# a comment on top
schema = 1
title = "From one island to the other"
role = "filed"             # as filed
departure = "XVAL"
departure_runway = "09"
destination = "XVOR"
destination_runway = "27"
approach = "I27"
alternate = ["XVMA"]
off_block = 2026-12-03T14:30:00Z
speed = "N0430"
level = "F350"
route = "LENDU DCT PIKAR UM12 TOVIK"
aircraft_sheet = "Medium jet"
expect = ["dogleg: PIKOR"]
"""


def read(text):
    return read_route_file(text, "a.route.toml")


def test_every_key():
    assert read(FULL) == RouteInput(
        "LENDU DCT PIKAR UM12 TOVIK",
        title="From one island to the other",
        role=Role.FILED,
        departure="XVAL",
        departure_runway="09",
        destination="XVOR",
        destination_runway="27",
        approach="I27",
        alternate=("XVMA",),
        off_block=dt.datetime(2026, 12, 3, 14, 30, tzinfo=dt.UTC),
        speed="N0430",
        level="F350",
        aircraft_sheet="Medium jet",
        expect=("dogleg: PIKOR",),
    )


def test_only_the_route_must_be_there():
    assert read('route = "LENDU"') == RouteInput("LENDU", name="a.route.toml")


@pytest.mark.parametrize(("text", "expect"), [("", None), ("expect = []", ()), ('expect = ["a: B"]', ("a: B",))])
def test_expecting_nothing_is_not_the_same_as_no_expectation(text, expect):
    assert read(f'route = "A"\n{text}').expect == expect


@pytest.mark.parametrize("role", ["filed", "cleared", "entered"])
def test_roles(role):
    assert read(f'route = "A"\nrole = "{role}"').role.value == role


REMARKS = [
    ("wind = 280", "Not used: wind; it is written “280/45”"),
    (
        '[[wind]]\nlevel = "F350"',
        "Not used: wind 1; it must give from_deg_true, speed_kt and its level or leg as text.",
    ),
    ("[[wind]]\nfrom_deg_true = 361\nspeed_kt = 4", "Not used: from_deg_true of wind 1; it must be a number from 0 to"),
    ("[[wind]]\nfrom_deg_true = 3\nspeed_kt = 4\nfoo = 1", "Not used: the key “foo” of wind 1; there is no such key."),
    (
        "[[wind]]\nfrom_deg_true = 3\nspeed_kt = 4\n[[wind]]\nfrom_deg_true = 3\nspeed_kt = 5\nlevel = 'F100'",
        "Not used: wind; of several winds each gives its level or its leg",
    ),
    ("claim = 3", "Not used: claim; claims are tables"),
    ("[[claim]]\nto = 3", "Not used: to of claim 1; it must be text"),
    ("[[claim]]\nlat = 91", "Not used: lat of claim 1; it must be a number from -90 to 90."),
    ("[[claim]]\nlat = nan", "Not used: lat of claim 1;"),
    ("[[claim]]\nlon = 1e999999", "Not used: lon of claim 1;"),
    ("[[claim]]\ntime_min = true", "Not used: time_min of claim 1;"),
    ("[[claim]]\nfoo = 1", "Not used: the key “foo” of claim 1; there is no such key."),
    ("window = 3", "Not used: window; altitude windows are tables headed [[window]]."),
    ('[[window]]\npoint = "A"', "Not used: window 1; it must give low_ft, high_ft or at_ft."),
    ("[[window]]\nat_ft = 5000", "Not used: window 1; it must name its point."),
    ('[[window]]\npoint = "A"\nat_ft = 1\nlow_ft = 1', "Not used: window 1; at_ft beside low_ft or high_ft"),
    (
        '[[window]]\npoint = "A"\nat_ft = 1e999999',
        "Not used: at_ft of window 1; it is a number out of all bounds; it must be a number from -10,000",
    ),
    ('[[window]]\npoint = "A"\nlow_ft = nan', "Not used: low_ft of window 1;"),
    ('[[window]]\npoint = "A"\nlow_ft = true\nhigh_ft = 3', "Not used: low_ft of window 1;"),
    ('[[window]]\npoint = "A"\nat_ft = 1\nfoo = 1', "Not used: the key “foo” of window 1; there is no such key."),
    ("[load]\nunit = 'stone'", "Not used: unit of load; it is one of “kg” or “lb”."),
    ("accepted = 3", "Not used: accepted; accepted findings are tables"),
    ('[[accepted]]\ncheck = "dogleg"\nby = "AB"', "Not used: accepted 1; it has no reason."),
    ('[[accepted]]\ncheck = "dogleg"\nreason = "weather"', "Not used: accepted 1; it has no by."),
    ("[[accepted]]\ncheck = 3", "Not used: accepted 1; its check must be text"),
    (
        '[[accepted]]\ncheck = "a"\nby = "b"\nreason = "c"\nfoo = 1',
        "Not used: the key “foo” of accepted 1; there is no such key.",
    ),
    ('[[accepted]]\ncheck = "a"\nby = "b"\nreason = "c"\nat = 1', "Not used: at of accepted 1; it must be a time"),
    (
        '[[accepted]]\ncheck = "a"\nby = "b"\nreason = "c"\nat = 2026-12-03T14:30:00',
        "at of accepted 1 has no time zone",
    ),
    ("changed = 3", "Not used: changed; changes are tables headed [[changed]]."),
    ('[[changed]]\nold = "PIKOR"', "Not used: changed 1; it must give old and new, two different texts"),
    ('[[changed]]\nold = "A"\nnew = "A"', "Not used: changed 1; it must give old and new, two different texts"),
    ('[[changed]]\nold = "A"\nnew = "B"\noffset = -1', "Not used: offset of changed 1; it must be a whole number"),
    ('[[changed]]\nold = "A"\nnew = "B"\nticked = "no"', "Not used: ticked of changed 1; it must be true or false."),
    ('[[changed]]\nold = "A"\nnew = "B"\nfoo = 1', "Not used: the key “foo” of changed 1; there is no such key."),
    ("approach = 27", "Not used: approach; it is a number, but must be text in quotation marks."),
    ("foo = 1", "Not used: the key “foo”; there is no such key."),
    ("departure = 5", "Not used: departure; it is a number, but must be text in quotation marks."),
    ("title = true", "Not used: title; it is true or false,"),
    ("speed = ['N0430']", "Not used: speed; it is a list,"),
    ("level = {a = 1}", "Not used: level; it is a table,"),
    ("level = 10:00:00", "Not used: level; it is a date or time,"),
    ("alternate = [1]", "Not used: alternate; it is a list, but must be a list of texts."),
    ("expect = 1.5", "Not used: expect; it is a number,"),
    ('role = "planned"', "Not used: role; it is one of “filed”, “cleared” and “entered”."),
    ('role = "not said"', "Not used: role;"),
    ("role = []", "Not used: role;"),
]


@pytest.mark.parametrize(("text", "remark"), REMARKS)
def test_what_is_not_used_is_said(text, remark):
    route_input = read(f'route = "A"\n{text}\n')
    assert (route_input.route, route_input.unread) == ("A", "")
    said = [*(one.sentence for one in route_input.not_used), *route_input.remarks]
    assert any(sentence.startswith(remark) for sentence in said), said


@pytest.mark.parametrize(
    ("key", "text"),
    [("wind", "strong"), ("wind", "361/45"), ("wind", "280/301"), ("off_block", "soon"), ("level", "F35O")],
)
def test_a_text_that_cannot_be_read_is_kept_as_typed(key, text):
    read_back = read(f'route = "A"\n{key} = "{text}"\n')
    (typed,) = read_back.typed
    assert typed[1] == text
    assert f'{key} = "{text}"' in write_route_file(read_back)


UNREAD = [
    ('schema = 2\nroute = "A"', "of schema 2, from a later version"),
    ('schema = 0\nroute = "A"', "the schema of a route file is a whole number"),
    ('schema = "1"\nroute = "A"', "the schema of a route file is a whole number"),
    ('schema = true\nroute = "A"', "the schema of a route file is a whole number"),
    ("schema = 1", "the route file has no route"),
    ('route = " "', "the route file has no route"),
    ("route = 5", "the key route is a number, it must be text in quotation marks"),
    ('route = "A"\ndeparture = XVAL\n', "the route file is broken: invalid value (at line 2, column 13)"),
    ('route = "A"\nroute = "B"', "the route file is broken: cannot overwrite a value"),
    ("x = " + "[" * 5000, "the route file is broken"),
    ("x = " + "1" * 5000 + "x", "the route file is broken"),
]


@pytest.mark.parametrize(("text", "why"), UNREAD, ids=[why for _, why in UNREAD])
def test_files_that_cannot_be_read(text, why):
    route_input = read(text)
    assert why in route_input.unread
    assert (route_input.route, route_input.name) == ("", "a.route.toml")


def test_claims_and_the_precision_they_are_written_with():
    route_input = read(
        'route = "A"\n[[claim]]\nto = "pikar"\nlat = -31.50\nlon = 12.25\n[[claim]]\nlat = 31\n[[claim]]\nto = "B"'
    )
    assert (route_input.remarks, route_input.not_used) == ((), ())
    assert route_input.claims == (
        Claim("PIKAR", lat=-31.5, lon=12.25, precision_deg=pytest.approx(0.005)),
        Claim("", lat=31, precision_deg=0.5),
        Claim("B"),
    )


def test_windows_and_wind():
    route_input = read(
        'route = "A"\nwind = "280/45"\n[[window]]\npoint = " pikar"\nlow_ft = 11000\n[[window]]\npoint = "RIPAS"\n'
        'low_ft = 12000\nhigh_ft = 9000.5\n[[window]]\npoint = "HUNSA"\nat_ft = 50000\n'
    )
    assert (route_input.remarks, route_input.not_used) == ((), ())
    assert route_input.wind == (Wind(280, 45),)
    assert route_input.windows == (
        AltitudeWindow("PIKAR", 11_000, None),
        AltitudeWindow("RIPAS", 12_000, 9_000.5),
        AltitudeWindow("HUNSA", 50_000, 50_000),
    )


def test_wind_by_level():
    level = '[[wind]]\nlevel = "f350"\nfrom_deg_true = 280\nspeed_kt = 45.5\n'
    route_input = read(f'route = "A"\n{level}{level.replace("f350", "F100")}')
    assert (route_input.remarks, route_input.not_used) == ((), ())
    assert route_input.wind == (Wind(280, 45.5, "F350"), Wind(280, 45.5, "F100"))
    for text in ("005/9", "5 / 009 kt", "360/00KTS"):
        assert read(f'route = "A"\nwind = "{text}"').not_used == ()


# ---- writing


def test_an_unchanged_entry_changes_nothing():
    text = FULL + 'foo = 1 # mine\n[[claim]]\nto = "PIKAR"\nlat = 1.50\n[[accepted]]\ncheck = "dogleg"\n'
    assert write_route_file(read(text), text) == text


def test_a_rewrite_touches_only_what_changed():
    text = FULL + 'foo = 1 # mine\n\n[[accepted]]\ncheck = "dogleg" # kept\n'
    changed = write_route_file(replace(read(text), route="LENDU DCT TOVIK", level="", role=Role.CLEARED), text)
    expected = text.replace("LENDU DCT PIKAR UM12 TOVIK", "LENDU DCT TOVIK").replace('level = "F350"\n', "")
    assert changed == expected.replace('"filed"', '"cleared"')


def test_a_new_key_stays_out_of_the_tables_below():
    text = 'route = "A"\n\n[[accepted]]\ncheck = "dogleg"\n'
    changed = write_route_file(replace(read(text), departure="XVAL", off_block=dt.date(2026, 12, 3)), text)
    assert tomllib.loads(changed) == {**tomllib.loads(text), "departure": "XVAL", "off_block": dt.date(2026, 12, 3)}


def test_the_time_of_day_stays_while_the_day_does():
    assert "2026-12-03T14:30:00Z" in write_route_file(replace(read(FULL), departure="XVQZ"), FULL)


def test_a_file_without_its_route_can_be_completed():
    assert tomllib.loads(write_route_file(RouteInput("A"), "schema = 1 # new\n")) == {"schema": 1, "route": "A"}


@pytest.mark.parametrize("text", ["schema = 2", "route = ", "route = 5"])
def test_no_other_file_is_overwritten(text):
    with pytest.raises(ValueError, match=r"route file|the key route"):
        write_route_file(RouteInput("A"), text)


TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
WORDS = TEXTS.map(str.strip)
CLAIMS = st.builds(
    Claim,
    to=WORDS.map(str.upper),
    lat=st.none() | st.floats(-90, 90),
    distance_nm=st.none() | st.floats(0, 10_000),
    level=st.sampled_from(["", "F350"]),
)

HEIGHTS = st.floats(-10_000, 1_000_000) | st.integers(0, 450).map(lambda level: level * 100.0)
WINDOWS = st.builds(AltitudeWindow, WORDS.map(str.upper).filter(bool), HEIGHTS, st.none() | HEIGHTS)
WINDS = st.builds(Wind, st.floats(0, 360), st.floats(0, 300), st.sampled_from(["", "F350"]))
OF_LEG = st.builds(Wind, st.floats(0, 360), st.floats(0, 300), st.just(""), st.just("PIKAR"))


WHOLE_MINUTES = st.times().map(lambda time: time.replace(second=0, microsecond=0))
ENTRIES = st.builds(
    RouteInput,
    route=TEXTS.filter(str.strip),
    title=WORDS.filter(bool),
    departure=WORDS,
    level=st.sampled_from(["", "F350", "A080"]),
    role=st.sampled_from(Role),
    off_block=st.none() | st.dates() | WHOLE_MINUTES | st.datetimes(timezones=st.just(dt.UTC)).map(to_utc),
    alternate=st.lists(TEXTS, max_size=2).map(tuple),
    expect=st.none() | st.lists(TEXTS, max_size=2).map(tuple),
    claims=st.lists(CLAIMS, max_size=2).map(tuple),
    windows=st.lists(WINDOWS, max_size=2).map(tuple),
    wind=st.just(()) | st.tuples(WINDS) | st.tuples(WINDS, OF_LEG),
)


@given(ENTRIES)
def test_what_was_written_is_read_back(route_input):
    back = read(write_route_file(route_input))
    assert replace(back, claims=()) == replace(route_input, claims=())
    bare = [replace(claim, precision_deg=0.0) for claim in back.claims]
    assert bare == [replace(claim, precision_deg=0.0) for claim in route_input.claims]
    assert replace(read(write_route_file(back))) == replace(back, not_used=())


@given(ENTRIES, ENTRIES)
def test_an_entry_written_over_another_is_read_back(route_input, other):
    back = read(write_route_file(route_input, write_route_file(other)))
    assert replace(back, claims=()) == replace(route_input, claims=())
    bare = [replace(claim, precision_deg=0.0) for claim in back.claims]
    assert bare == [replace(claim, precision_deg=0.0) for claim in route_input.claims]


ACCEPTED = st.builds(
    Accepted,
    check=WORDS.filter(bool),
    words=WORDS,
    reason=WORDS.filter(bool),
    by=WORDS.filter(bool),
    at=st.just("") | st.dates(dt.date(1900, 1, 1)).map(lambda day: f"{day}T14:30:00Z"),
    finding=WORDS,
)


@given(st.lists(ACCEPTED, min_size=1, max_size=3).map(tuple))
def test_accepted_findings_are_read_back(accepted):
    text = FULL + "# mine\n"
    written = write_route_file(replace(read(text), accepted=accepted), text)
    assert read(written).accepted == accepted
    assert "# mine" in written
    assert "accepted" not in tomllib.loads(write_route_file(replace(read(written), accepted=()), written))


CHANGES = st.builds(Change, TEXTS, TEXTS, st.integers(-1, 5000), st.booleans()).filter(lambda c: c.old != c.new)


@given(st.lists(CHANGES, min_size=1, max_size=3).map(tuple))
def test_what_was_changed_here_is_read_back_and_leaves_the_file_when_it_is_undone(changed):
    text = FULL + "# mine\nfoo = 1\n"
    written = write_route_file(replace(read(text), changed=changed), text)
    assert read(written).changed == changed
    assert "# mine" in written
    assert tomllib.loads(written)["foo"] == 1
    assert "changed" not in tomllib.loads(write_route_file(replace(read(written), changed=()), written))


def test_a_change_of_an_unknown_tick_is_not_ticked():
    assert read('route = "A"\n[[changed]]\nold = "A"\nnew = "B"\nticked = "yes"').changed == (Change("A", "B"),)


def test_tables_keep_their_comments_and_unknown_keys_when_others_of_them_change():
    text = """route = "LENDU"
[[changed]] # mine
old = "PIKOR"
new = "PIKAR" # as the plan has it
offset = 10
foo = 1
[[changed]]
old = "A"
bar = 2
[[window]]
point = "LENDU"
low_ft = 9000
high_ft = 11000
who = "me"
[[claim]]
to = "LENDU"
distance_nm = 31.20
said_by = "nav log"
"""
    route_input = read(text)
    ticked = (replace(route_input.changed[0], ticked=True), Change("X", "Y", 3))
    changed = replace(
        route_input,
        changed=ticked,
        windows=(AltitudeWindow("LENDU", 9_000, None),),
        claims=(*route_input.claims, Claim("B")),
    )
    written = write_route_file(changed, text)
    back = tomllib.loads(written)
    assert back["changed"] == [
        {"old": "PIKOR", "new": "PIKAR", "offset": 10, "foo": 1, "ticked": True},
        {"old": "X", "new": "Y", "offset": 3},
        {"old": "A", "bar": 2},
    ]
    assert back["window"] == [{"point": "LENDU", "low_ft": 9000, "who": "me"}]
    assert back["claim"][0] == {"to": "LENDU", "distance_nm": 31.2, "said_by": "nav log"}
    assert "# as the plan has it" in written
    assert "31.20" in written
    assert read(written).changed == ticked
    gone = tomllib.loads(write_route_file(replace(read(written), changed=()), written))
    assert gone["changed"] == [{"old": "A", "bar": 2}]


def test_a_time_of_another_zone_becomes_utc():
    route_input = read(
        'route = "A"\n[[accepted]]\ncheck = "a"\nreason = "b"\nby = "c"\nat = 2026-12-03T15:30:00+01:00\n'
    )
    assert route_input.accepted == (Accepted("a", "", "b", "c", at="2026-12-03T14:30:00Z"),)


PIECES = ["route", "schema", "=", '"A"', "1", "[[claim]]", "lat", "[", "]", "{", "}", "#", "2026-12-03", "nan"]
LIKE_FILES = st.lists(st.sampled_from([*PIECES, "\n"]), max_size=20).map(" ".join)


@given(st.text() | LIKE_FILES)
def test_any_text_gives_an_entry(text):
    route_input = read(text)
    assert bool(route_input.unread) != bool(route_input.route)
