"""The result line against its schema: every sample, odd inputs, real routes; and the schema against the line."""

import datetime as dt
import json
import re
from dataclasses import replace

import jsonschema
import pytest

from routecheck.known.collection import About, KnownRow, compile_collection
from routecheck.known.known_routes import KnownRoutes
from routecheck.model import AltitudeWindow, Place, PlaceKind, Role, RouteInput
from routecheck.navdata.database import demo_database, empty_database
from routecheck.pipeline import assess
from routecheck.reading.samples import read_demo_route, read_samples
from routecheck.report import jsonl
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


@pytest.fixture(scope="module")
def demo():
    return demo_database()


@pytest.fixture(scope="module")
def schema(root):
    return json.loads((root / "resources" / "schema" / "result-1.json").read_text("utf-8"))


@pytest.fixture(scope="module")
def hold(schema):
    """Read a line back and hold it against the schema and against what a schema cannot say."""
    validator = jsonschema.Draft202012Validator(closed(schema))

    def check(line):
        result = json.loads(line, parse_constant=lambda name: pytest.fail(f"{name} is no JSON"))
        faults = [f"{list(error.absolute_path)}: {error.message[:200]}" for error in validator.iter_errors(result)]
        assert faults == []
        assert (
            json.dumps(result, separators=(",", ":")) == line
        )  # no blank, nothing written in another way, no key twice
        beyond_schema(result)
        return result

    return check


def closed(part):
    """The schema without room for a key that it does not describe: readers may meet new ones, we must describe ours."""
    if isinstance(part, list):
        return [closed(inner) for inner in part]
    if not isinstance(part, dict):
        return part
    shut = {"additionalProperties": False} if part.get("type") == "object" and "properties" in part else {}
    return {name: closed(inner) for name, inner in part.items()} | shut


def beyond_schema(result):
    points, legs, text = result["points"], result["legs"], result["route"]
    assert [(leg["from"], leg["to"]) for leg in legs] == [(i, i + 1) for i in range(len(points) - 1)]
    assert points[0]["span"] is None
    assert points[-1]["span"] is None
    assert (points[0]["text"], points[-1]["text"]) == (result["departure"], result["destination"])
    for point in points:  # placed with all that belongs to it, or not placed
        assert len({point[key] is None for key in ("lat", "lon", "kind", "from")}) == 1
    known = [leg["distance_nm"] for leg in legs if leg["distance_nm"] is not None]
    assert result["totals"]["distance_nm"] == pytest.approx(sum(known), abs=1e-4 * (len(known) + 1))
    assert result["totals"]["gaps"] == len(legs) - len(known)
    open_legs = [leg for leg in legs if leg["distance_nm"] is None]
    assert all(leg["course_true_deg"] is leg["course_magnetic_deg"] is None for leg in open_legs)
    unplaced = {i for i, point in enumerate(points) if point["lat"] is None}
    assert all(leg in open_legs for leg in legs if {leg["from"], leg["to"]} & unplaced)
    edits_fit(result)
    if result["totals"]["gaps"]:
        assert result["totals"]["checked_share"] != 1
    spans = [span for said in (*result["findings"], *result["not_checked"]) for span in said["spans"]]
    spans += [point["span"] for point in points if point["span"]]
    assert all(start < end <= len(text) for start, end in spans)


def edits_fit(result):
    text = result["route"]
    for finding in result["findings"]:
        for intended in finding["likely_intended"]:
            if intended["edit"]:
                start, end, new = intended["edit"]
                assert intended["route"] == text[:start] + new + text[end:]


def line_of(route_input, database):
    return jsonl.format_line(assess(route_input, database, Settings(), DAY))


# ---- the schema itself


def test_the_schema_is_one_and_says_what_every_key_is(schema):
    jsonschema.Draft202012Validator.check_schema(schema)
    silent = [
        f"{where}.{name}"
        for where, part in objects(schema)
        for name, key in part["properties"].items()
        if not key.get("description") and key.get("$ref") != "#/$defs/check"
    ]
    assert silent == []
    for where, part in objects(schema):
        assert "additionalProperties" not in part, where
        assert sorted(part["required"]) == sorted(part["properties"]), where


def objects(part, where="result"):
    """Every object of the schema, with where it stands."""
    if isinstance(part, dict):
        if part.get("type") == "object" and "properties" in part:  # else its keys are the user's
            yield where, part
        for name, inner in part.items():
            yield from objects(inner, f"{where}.{name}")
    if isinstance(part, list):
        for inner in part:
            yield from objects(inner, where)


def test_units_stand_in_the_names_and_in_the_words(schema):
    words = {"_nm": "NM", "_deg": "degrees", "_min": "minutes", "_ft": "feet", "_kt": "knots", "_kg": "kilograms"}
    told = [
        (name, key["description"])
        for _, part in objects(schema)
        for name, key in part["properties"].items()
        if name[name.rfind("_") :] in words
    ]
    assert len(told) >= 10
    assert [name for name, text in told if words[name[name.rfind("_") :]] not in text] == []


def test_the_enumerations_are_those_of_the_model(schema):
    point = schema["properties"]["points"]["items"]["properties"]
    assert set(point["kind"]["enum"]) == {*(kind.value for kind in PlaceKind), None}
    assert set(schema["properties"]["role"]["enum"]) == {role.value for role in Role}
    assert set(schema["properties"]["outcomes"]["properties"]) == set(jsonl.OUTCOME_KEYS.values())


@pytest.mark.parametrize(
    ("key", "value"),
    [("role", "Filed"), ("schema", "routecheck.result/2"), ("points", []), ("program", None)],
)
def test_a_line_that_is_otherwise_is_refused(key, value, schema, demo):
    result = json.loads(line_of(read_demo_route(), demo))
    jsonschema.validate(result, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(result | {key: value}, schema)


def objects_of(result, path=()):
    """Every object of a result line, with the way to it."""
    if isinstance(result, dict):
        yield path, result
        for key, inner in result.items():
            yield from objects_of(inner, (*path, key))
    if isinstance(result, list):
        for index, inner in enumerate(result):
            yield from objects_of(inner, (*path, index))


@pytest.fixture
def rich(hold, demo):
    """A result with every object of the schema in it: facts, proposals, changes beside the text, a failure."""
    low = AltitudeWindow("KEBUL", 1_100.0)
    route_input = RouteInput("LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2", "XVAL", "XVOR", level="F350", windows=(low,))
    answer = assess(route_input, demo, Settings(), DAY)
    result = hold(jsonl.format_line(replace(answer, could_not_run=(("doubling-back", "it broke"),))))
    assert {re.sub(r"/\d+", "/*", "/".join(map(str, path))) for path, _ in objects_of(result)} == {
        "", "input", "input/columns", "totals", "points/*", "legs/*", "findings/*", "findings/*/facts/*",
        "findings/*/likely_intended/*", "findings/*/likely_intended/*/beside/*", "outcomes", "not_checked/*",
        "could_not_run/*", "data", "data/records/*",
    }  # fmt: skip
    return shortened(result)


def shortened(part):
    """Two objects of each list, the longest, for what they have inside: a schema is quicker with few."""
    if isinstance(part, dict):
        return {key: shortened(inner) for key, inner in part.items()}
    if isinstance(part, list) and all(isinstance(inner, dict) for inner in part):
        return [shortened(inner) for inner in sorted(part, key=lambda inner: len(json.dumps(inner)))[-2:]]
    return part


def test_readers_may_meet_a_new_key_in_every_object(rich, schema):
    validator = jsonschema.Draft202012Validator(schema)
    for _, part in list(objects_of(rich)):
        if part is not rich["input"]["columns"]:  # its keys are the user's, its values texts
            part["a key of a later version"] = {"any": 1}
    assert validator.is_valid(rich)


@pytest.mark.slow
def test_no_key_may_lack_and_none_be_of_another_type(rich, schema):
    validator = jsonschema.Draft202012Validator(schema)
    tried = 0
    for path, part in list(objects_of(rich)):
        for key, value in list(part.items()):
            del part[key]
            assert not validator.is_valid(rich), (*path, key)
            part[key] = {"an object": "where none belongs"} if not isinstance(value, dict) else "text"
            assert not validator.is_valid(rich), (*path, key)
            part[key] = value
            tried += 1
    assert validator.is_valid(rich)
    assert tried > 100


def test_a_course_of_360_and_a_share_over_one_are_refused(schema, demo):
    for path, value in ((("legs", 0, "course_true_deg"), 360.0), (("totals", "checked_share"), 1.1)):
        result = json.loads(line_of(read_demo_route(), demo))
        part = result
        for step in path[:-1]:
            part = part[step]
        part[path[-1]] = value
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(result, schema)


# ---- lines


def test_the_demo_route(hold, demo):
    result = hold(line_of(read_demo_route(), demo))
    assert list(result) == [
        "schema", "program", "name", "input", "role", "departure", "destination", "off_block", "route", "headline",
        "verdict", "totals", "points", "legs", "load", "read_across", "alternates", "known_routes", "findings",
        "findings_not_shown", "outcomes", "not_checked", "could_not_run", "not_used", "remarks", "data", "cautions",
    ]  # fmt: skip
    assert result["role"] == "entered"
    assert [f["check"] for f in result["findings"] if f["weight"] == "wrong"] == ["off-airway"]
    assert result["findings"][0]["spans"] == [[10, 15]]
    records = [{"in_source": 410, "rejected": 0, "announced": 410}]
    assert result["data"] == {"data_sources": ["demo region"], "records": records, "cycle": "2612"}
    assert result["totals"]["gaps"] == 1


@pytest.mark.parametrize(
    ("name", "route_input"),
    [s for folder in ("clean", "planted") for s in read_samples(folder)],
    ids=lambda v: str(v)[:40],
)
def test_every_sample(name, route_input, hold, demo):
    result = hold(line_of(route_input, demo))
    assert result["route"] == route_input.route
    assert (result["could_not_run"], result["outcomes"]["could_not_run"]) == ([], 0)


ODD = {
    "nothing": RouteInput(""),
    "no departure": RouteInput("LENDU DCT PIKAR", "", "XVOR"),
    "unknown airport": RouteInput("LENDU DCT PIKAR", "XVQZ", "XVOR"),
    "unread row": RouteInput("", name="rows.csv, line 7", unread="line 7: only 2 cells, but the header has 5"),
    "empty route": RouteInput("", "XVAL", "XVOR"),
    "blanks": RouteInput(" \t\n ", "XVAL", "XVOR"),
    "airports typed": RouteInput("XVAL/27 LENDU DCT TOVIK XVOR/09"),
    "junk": RouteInput("☂ \x00 \ud800 91S002E LENDU/XX ((( N0430", "XVAL", "XVOR"),
    "poles and the date line": RouteInput("90N000E 90S180W 00N180E 00N180W", "", ""),
    "one spot": RouteInput("31S002E 31S002E 3100S00200E", "XVAL", "XVAL"),
    "nothing joins": RouteInput("UM13 UM14 KEL090 KEL270 NATB LENDU7 VELOR1 SARNO2", "XVAL", "XVOR"),
    "before the magnetic model": RouteInput("KEL106063 V14 MAV", "XVKE", "XVMA", off_block=dt.date(1999, 1, 1)),
    "more words than corrections are looked for among": RouteInput("LENDU DCT PIKOR UM12 ☂ " * 510, "XVAL", "XVOR"),
}


@pytest.mark.parametrize("route_input", ODD.values(), ids=ODD)
@pytest.mark.slow
def test_odd_inputs(route_input, hold, demo):
    hold(line_of(route_input, demo))


def test_no_data_at_all(hold):
    result = hold(line_of(RouteInput("LENDU 52N020W", "EGLL", "EIDW"), empty_database()))
    assert result["data"] == {"data_sources": [], "records": [], "cycle": None}
    assert result["points"][0]["from"] == "airportsdata"


def test_where_positions_are_from(hold, demo):
    result = hold(line_of(RouteInput("LENDU DCT 31S002E DCT KEL106063 DCT TEB", "EGLL", "XVOR"), demo))
    told = [(p["text"], p["kind"], p["from"]) for p in result["points"]]
    assert told == [
        ("EGLL", "airport", "airportsdata"),
        ("LENDU", "fix", "data"),
        ("31S002E", "typed position", "typed"),
        ("KEL106063", "computed position", "computed"),
        ("TEB", "DME", "data"),
        ("XVOR", "airport", "data"),
    ]


def test_points_inside_an_airway_have_their_name_and_the_span_of_its_word(hold, demo):
    result = hold(line_of(RouteInput("LENDU UM12 TOVIK", "XVAL", "XVOR"), demo))
    assert [(p["text"], p["span"]) for p in result["points"]] == [
        ("XVAL", None), ("LENDU", [0, 5]), ("PIKAR", [6, 10]), ("UVAGI", [6, 10]), ("TOVIK", [11, 16]), ("XVOR", None),
    ]  # fmt: skip


def test_a_word_without_a_place_stays_a_point_and_both_its_legs_are_null(hold, demo):
    result = hold(line_of(RouteInput("LENDU DCT PIKER DCT UVAGI", "XVAL", "XVOR"), demo))
    assert [p["text"] for p in result["points"]] == ["XVAL", "LENDU", "PIKER", "UVAGI", "XVOR"]
    assert [leg["distance_nm"] is None for leg in result["legs"]] == [False, True, True, False]
    assert result["totals"]["gaps"] == 2
    assert "at least" in result["headline"]


def test_a_course_that_rounds_to_360_is_zero(demo):
    """A leg due north but for a ten-thousandth of a degree: 359.9999 would be written as 360.0."""
    answer = assess(RouteInput("LENDU", "XVAL", "XVOR"), demo, Settings(), DAY)
    leg = replace(answer.route.legs[0], course_true_deg=359.99996, course_magnetic_deg=359.99951)
    answer = replace(answer, route=replace(answer.route, legs=(leg, *answer.route.legs[1:])))
    assert [
        json.loads(jsonl.format_line(answer))["legs"][0][k] for k in ("course_true_deg", "course_magnetic_deg")
    ] == [
        0.0,
        0.0,
    ]


def test_the_line_is_one_line_in_ascii_and_gives_the_text_back(demo):
    text = "LENDU\r\n\u2028DCT\u0085 \ud800 ☂ \x00 PIKAR"
    line = line_of(RouteInput(text, "XVAL", "XVOR"), demo)
    assert line.isascii()
    assert len(line.splitlines()) == 1
    assert json.loads(line)["route"] == text


def test_a_place_on_the_equator_has_no_sign(demo):
    answer = assess(RouteInput("LENDU", "XVAL", "XVOR"), demo, Settings(), DAY)
    first, point, last = answer.route.points
    for lat in (-0.0, 0.0, -1e-12):
        points = (first, replace(point, place=Place("LENDU", lat, 12.5, PlaceKind.FIX)), last)
        line = jsonl.format_line(replace(answer, route=replace(answer.route, points=points)))
        assert '"lat":0.0,"lon":12.5,' in line


def test_a_figure_that_is_no_number_is_never_written(demo):
    answer = assess(RouteInput("LENDU", "XVAL", "XVOR"), demo, Settings(), DAY)
    place = Place("LENDU", float("nan"), 0.0, PlaceKind.FIX)
    spoilt = replace(answer.route.points[1], place=place)
    answer = replace(
        answer, route=replace(answer.route, points=(answer.route.points[0], spoilt, answer.route.points[2]))
    )
    with pytest.raises(ValueError, match="JSON"):
        jsonl.format_line(answer)


def test_some_hundred_real_routes(hold, assessed):
    some = assessed[::40]
    assert len(some) > 120
    lines = [hold(jsonl.format_line(one)) for one in some]
    assert [line["route"] for line in lines] == [one.route.route_input.route for one in some]
    assert {line["data"]["cycle"] for line in lines} == {"2301"}


def test_a_hint_says_that_it_is_from_an_undated_list(demo, hold):
    answer = assess(RouteInput("YWG DCT PIKAR DCT LENDU", "CYYZ", "CYVR"), demo, Settings(), DAY)
    line = jsonl.format_line(answer)
    hold(line)
    points = json.loads(line)["points"]
    assert [(point["text"], point["from"]) for point in points[:3]] == [
        ("CYYZ", "airportsdata"),
        ("YWG", "undated list"),
        ("PIKAR", None),
    ]


def test_what_known_routes_say_is_there_where_any_are_loaded(demo, hold):
    row = KnownRow(departure="XVAL", destination="XVOR", words="LENDU UM12 TOVIK SARNO", text="LENDU UM12 TOVIK SARNO")
    known = KnownRoutes(
        [compile_collection([row], lambda routes: About(name="a.csv", routes=routes), lambda _share: None)]
    )
    given = RouteInput("LENDU UM12 RULPO SARNO", "XVAL", "XVOR")
    said = hold(jsonl.format_line(assess(given, demo, Settings(), DAY, known)))["known_routes"]
    assert (said["collections"], said["between"]) == (["a.csv"], 1)
    assert said["nearest"]["differences"] == [{"here": "RULPO", "there": "TOVIK"}]
    elsewhere = hold(jsonl.format_line(assess(RouteInput("LENDU", "XVAL", "XVMA"), demo, Settings(), DAY, known)))
    assert elsewhere["known_routes"]["nearest"] is None
    assert hold(jsonl.format_line(assess(given, demo, Settings(), DAY)))["known_routes"] is None
