"""Nav logs as they come off a printer or out of a PDF: titles on every page, rows of several lines, single blanks."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from routecheck.model import Use, parts_of_use
from routecheck.reading.input_format import NO_CHOICES
from routecheck.reading.inputs import read_input, recognise_format
from routecheck.reading.nav_logs.nav_log import read_nav_log

ROUTE = "LENDU UM12 PIKAR UM12 UVAGI UM12 TOVIK DCT SARNO DCT"
TITLE = "FLIGHT LOG  XVA123   XVAL - XVOR     03DEC26                  PAGE {} OF 2\n\n"


def read_one(text):
    assert recognise_format(text, "log.txt").name == "nav-log"
    (given,) = read_input(text.encode(), "log.txt")
    return given


def left_alone(given):
    return [given.pasted.text[slice(*part.span)] for part in parts_of_use(given.pasted.parts, Use.AROUND, Use.UNREAD)]


def two_lines(row):
    first = (
        f"{row['fix']:7} {row['airway']:5} {row['true']}  {row['lat']:9} {row['level']}  {row['wind']}  {row['time']}"
    )
    return (
        f"{first}  {row['fuel']}\n{'':16}{row['mag']}  {row['lon']:9} {row['dist']:>5} {row['left']:>6} {row['gs']}\n"
    )


HEADS = """FIX     AWY   TC   LAT       FL   W/V     ETE   FUEL
                MC   LONG      DIST   REM   GS
---------------------------------------------------
"""


def test_two_lines_a_point_with_a_title_on_each_page(rows, found):
    body = [two_lines(row) for row in rows]
    text = TITLE.format(1) + HEADS + "".join(body[:3]) + "\n" + TITLE.format(2) + HEADS + "".join(body[3:])
    text += "ALTN XVMA  FL190  62 NM  0:14\n"
    given = read_one(text)
    assert (given.departure, given.route, given.destination) == ("XVAL", ROUTE, "XVOR")
    assert "The departure XVAL is taken from a line around the table." in given.remarks
    assert [claim.distance_left_nm for claim in given.claims] == [float(row["left"]) for row in rows]
    assert [claim.level for claim in given.claims] == ["F350"] * len(rows)
    assert left_alone(given) == [TITLE.format(1).strip(), TITLE.format(2).strip(), "ALTN XVMA  FL190  62 NM  0:14"]
    assert found(text) == {}


def test_three_lines_a_point_a_row_of_the_departure_and_times_with_a_point(rows, found):
    head = (
        "POSITION  LAT      MC   FL   DIST   ETE   FUEL\nAWY       LONG     TC   TAS  REM    ACC   REMF\n"
        "          FREQ          OAT         ETA\n"
    )
    body = [
        f"{r['fix']:9} {r['lat']:8} {r['mag']}  {r['level']}  {r['dist']:>6} {r['time'].replace(':', '.')}  "
        f"{r['fuel']}\n"
        f"{r['airway']:9} {r['lon']:8} {r['true']}  430  {r['left']:>6} {r['time so far'].replace(':', '.')}  "
        f"{r['fuel left']}\n{'':9}          {' 45'}  -54         ....\n"
        for r in rows
    ]
    text = f"COMPUTED PLAN 4711   XVAL TO XVOR\n\n{head}XVAL\n{'':42}9000\n{''.join(body)}"
    given = read_one(text)
    assert (given.departure, given.route, given.destination) == ("XVAL", f"DCT {ROUTE}", "XVOR")
    assert [claim.time_min for claim in given.claims[1:]] == [float(row["time"][2:]) for row in rows]
    assert [claim.fuel_left_kg for claim in given.claims] == [9000.0, *(float(row["fuel left"]) for row in rows)]
    assert "Its times, such as 0.14, are read as hours and minutes." in given.remarks
    assert left_alone(given) == ["COMPUTED PLAN 4711   XVAL TO XVOR"]
    assert found(text) == {}


@pytest.mark.parametrize("spaced", [False, True])
def test_a_table_out_of_a_pdf_in_a_mail(rows, found, spaced):
    """One blank between cells, also within coordinates; the lines do not line up."""
    lines = []
    before = "XVAL"
    for row in rows:
        lat, lon = (f"{row['lat'][:3]} {row['lat'][3:]}", f"{row['lon'][:4]} {row['lon'][4:]}") if spaced else (
            row["lat"], row["lon"]
        )  # fmt: skip
        lines.append(" ".join([before, row["fix"], row["airway"], row["true"], lat, lon, row["dist"], row["gs"]]))
        before = row["fix"]
    lines[2] = lines[2].replace(" UM12", "")  # an airway that was lost in copying
    text = (
        "Hi Ann,\n\nplease check the log for tomorrow (XVA123, 3 Dec):\n\nFrom To AWY TC Lat Long Leg dist GS\n"
        + "\n".join(lines)
        + "\n\nThanks\nBen\n+44 20 1234 5678\n"
    )
    given = read_one(text)
    route = f"DCT {ROUTE}".replace("PIKAR UM12", "PIKAR DCT")
    assert (given.departure, given.route, given.destination) == ("XVAL", route, "XVOR")
    assert given.claims[1].lat == pytest.approx(-30.695, abs=0.01)
    assert given.claims[1].distance_nm == float(rows[1]["dist"])
    around = "Hi Ann,", "please check the log for tomorrow (XVA123, 3 Dec):", "Thanks", "Ben", "+44 20 1234 5678"
    assert tuple(left_alone(given)) == around
    assert found(text) == {}


def test_without_heads_fuel_is_not_taken_for_distance(rows, found):
    """Fuel used and left are a leg and what remains, as distance is; but at the end there is some left."""
    names = ("fix", "airway", "fuel", "fuel left", "lat", "lon", "dist", "left")
    text = "\n".join("  ".join(row[name].rjust(8) for name in names) for row in rows)
    given = read_one(text)
    assert given.claims[1].distance_nm == float(rows[1]["dist"])
    assert given.claims[1].distance_left_nm == float(rows[1]["left"])
    assert [one.name for one in given.not_used] == ["3", "4"]
    assert found(text) == {}


def test_the_top_of_descent_is_a_part_of_its_leg(rows, found):
    """Bars, a running sum under a head that says only so, and a row for a place that no route has."""
    whole = float(rows[3]["dist"])
    parts = [{**rows[3], "fix": "*TOD*", "dist": f"{whole - 20:.1f}"}, {**rows[3], "dist": "20.0"}]
    table = [*rows[:3], *parts, *rows[4:]]
    so_far, lines = 0.0, []
    for row in table:
        so_far += float(row["dist"])
        lines.append(f"| {row['fix']} | {row['airway']} | {row['mag']} | {row['dist']} | {so_far:.1f} |")
    text = "| Waypoint | Airway | MC | Dist | Cum |\n|---|---|---|---|---|\n" + "\n".join(lines)
    given = read_one(text)
    assert given.route == ROUTE
    assert [claim.distance_nm for claim in given.claims] == pytest.approx([float(row["dist"]) for row in rows])
    assert given.claims[3].distance_so_far_nm == pytest.approx(float(rows[3]["so far"]), abs=0.3)
    assert (given.not_used, found(text)) == ((), {})


FIXES = st.lists(st.sampled_from(["LENDU", "PIKAR", "UVAGI", "TOVIK", "SARNO", "5130N02000W"]), min_size=3, max_size=8)
FIGURES = st.tuples(
    st.integers(1, 999), st.integers(0, 359), st.integers(1, 59), st.sampled_from(["DCT", "UM12", "L9"])
)


@given(FIXES, st.data(), st.sampled_from(["\t", " | ", ";", "   "]))
@settings(max_examples=25)
def test_a_table_written_again_reads_the_same(fixes, data, sign):
    rows = [(fix, data.draw(FIGURES)) for fix in fixes]
    text = sign.join(["Fix", "Via", "TC", "Dist", "Time"]) + "\n"
    text += "\n".join(sign.join([fix, way, f"{tc:03}", f"{nm}.5", f"0:{m:02}"]) for fix, (nm, tc, m, way) in rows)
    given_input = read_nav_log(text, "x", NO_CHOICES)
    again = [
        sign.join([c.to, way, f"{c.course_true_deg:03.0f}", f"{c.distance_nm:.1f}", f"0:{c.time_min:02.0f}"])
        for c, (_, (_, _, _, way)) in zip(given_input.claims, rows, strict=True)
    ]
    assert "\n".join([text.splitlines()[0], *again]) == text
    assert read_nav_log("\n".join([text.splitlines()[0], *again]), "x", NO_CHOICES) == given_input
