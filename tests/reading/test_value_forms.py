"""Every form in which the trade types a value beside the text: read by one table, whichever door it comes in by."""

import csv
import datetime as dt
import io

import pytest

from routecheck.model import Wind
from routecheck.reading.input_fields import INPUT_FIELDS, explain_unread, read_texts, settle_fields
from routecheck.reading.route_file import read_route_file
from routecheck.reading.rows import read_rows

BY_NAME = {field.name: field for field in INPUT_FIELDS}
FEB = dt.date(2023, 2, 1)
DAYS = (
    "2023-02-01", "20230201", "2023-2-1", "2023/02/01", "2023.02.01", "01FEB23", "1FEB23", "01 FEB 23", "01 feb 2023",
    "1-Feb-2023", "01FEB2023", "1 February 2023", "DOF/230201",
)  # fmt: skip
MOMENTS = (
    "2023-02-01T14:30:00Z", "2023-02-01 14:30", "2023-02-01 1430", "2023-02-01 1430Z", "2023-02-01T0930-05:00",
    "20230201 1430", "01FEB23 1430", "1 Feb 2023 14:30 UTC", "DOF/230201 1430", "2023-02-01 2023-02-01 1430",
)  # fmt: skip

READ = {
    "speed": {
        "N0450": "N0450", "N450": "N0450", "n 450": "N0450", "450": "N0450", "0450": "N0450", "450KT": "N0450",
        "450 kts": "N0450", "95kt": "N0095", "K0830": "K0830", "K830": "K0830", "830 km/h": "K0830", "830KMH": "K0830",
        "M078": "M078", "M78": "M078", ".78": "M078", "M.78": "M078", "0.78": "M078", "M0.78": "M078",
        "Mach .78": "M078", "mach 78": "M078", " N0450 ": "N0450", "N450 kt": "N0450", "450 KTAS": "N0450",
        "TAS 450": "N0450", "M.780": "M078", "0,78": "M078", "M,78": "M078", "M 0.80": "M080",
    },
    "level": {
        "F360": "F360", "FL360": "F360", "fl 360": "F360", "F 360": "F360", "360": "F360", "36000": "F360",
        "36,000": "F360", "36.000": "F360", "36000ft": "F360", "36,000 feet": "F360", "080": "F080", "A080": "A080",
        "A 080": "A080", "8000": "A080", "8000 ft": "A080", "500ft": "A005", "17900": "A179", "18000": "F180",
        "S1130": "S1130", "M0840": "M0840", "11300m": "S1130", "VFR": "VFR", "350FL": "F350", "350 FL": "F350",
        "8,000'": "A080",
    },
    "off_block": {
        **dict.fromkeys(DAYS, FEB),
        **dict.fromkeys(MOMENTS, dt.datetime(2023, 2, 1, 14, 30, tzinfo=dt.UTC)),
        **dict.fromkeys(("1430", "14:30", "1430Z", "14:30 utc", "14:30:00", "14.30", "14h30"), dt.time(14, 30)),
    },
    "wind": {
        "270/50": (Wind(270.0, 50.0),), "270/050": (Wind(270.0, 50.0),), "270 / 50": (Wind(270.0, 50.0),),
        "27050KT": (Wind(270.0, 50.0),), "27050": (Wind(270.0, 50.0),), "270050": (Wind(270.0, 50.0),),
        "270050kt": (Wind(270.0, 50.0),), "270/50KT": (Wind(270.0, 50.0),), "270°/50": (Wind(270.0, 50.0),),
        "270@50": (Wind(270.0, 50.0),), "270 at 50": (Wind(270.0, 50.0),), "270T/50": (Wind(270.0, 50.0),),
        "00000KT": (Wind(0.0, 0.0),), "5/9": (Wind(5.0, 9.0),), "F350 270/50": (Wind(270.0, 50.0, "F350"),),
        "FL350 27050KT": (Wind(270.0, 50.0, "F350"),), "350 270050": (Wind(270.0, 50.0, "F350"),),
        "35000 270/50": (Wind(270.0, 50.0, "F350"),), "to PIKAR 27050": (Wind(270.0, 50.0, to="PIKAR"),),
        "F350 270/50, F240 260/30": (Wind(270.0, 50.0, "F350"), Wind(260.0, 30.0, "F240")),
    },
    "departure_runway": {
        "09": "09", "9": "09", "27R": "27R", "27 r": "27R", "9L": "09L", "RW27R": "27R", "RWY 27R": "27R",
        "rwy09": "09", "Runway 9": "09", "27 right": "27R", "09 Left": "09L", "18 center": "18C", "15W": "15W",
        "NE": "NE",
    },
    "destination_runway": {"27": "27", "RWY 27": "27"},
    "approach": {
        "I27": "I27", "I18R": "I18R", "R18RY": "R18RY", "H18-Z": "H18-Z", "VOR-A": "VOR-A", "ILS 18R": "I18R",
        "ILS RWY 18R": "I18R", "ILS18R": "I18R", "ILS Z 18R": "I18RZ", "ILS or LOC 9": "I09", "ILS Y RWY 09": "I09-Y",
        "RNAV 18R": "R18R", "RNAV Y 18R": "R18RY", "RNAV (GPS) Y RWY 18R": "R18RY", "RNAV (GPS) RWY 09": "R09",
        "RNAV (RNP) Z 18": "H18-Z", "LOC 27": "L27", "LOC BC 27": "B27", "VOR 27": "V27", "VOR/DME 27": "D27",
        "NDB 27": "N27", "GLS 27": "J27", "LDA Z 27": "X27-Z", "rnav y 18r": "R18RY",
        "ILS 27 CAT III": "I27",
    },
    "alternate": {
        "XVMA XVOR": ("XVMA", "XVOR"), "xvma,xvor": ("xvma", "xvor"), "XVMA/XVOR": ("XVMA", "XVOR"),
        "XVMA or XVOR": ("XVMA", "XVOR"), "XVMA; XVOR": ("XVMA", "XVOR"),
    },
    "rules": {"I": "I", "v": "V", "Y": "Y", "Z": "Z", "IFR": "I", "VFR": "V"},
    "role": {"filed": "filed", "cleared": "cleared", "Cleared ": "cleared", "as filed": "filed"},
}  # fmt: skip
UNREAD = {
    "speed": (
        "N043O",
        "250 KIAS",
        "480 mph",
        "K830 kt",
        "M0780",
        "banana",
        "78",
        "N45",
        "N04500",
        "M7",
        "fast",
        "450/F350",
        "N0450F350",
    ),
    "level": (
        "F35O",
        "FL 35000",
        "10.7 km",
        "35k",
        "banana",
        "F35",
        "FL80",
        "35",
        "36050",
        "350000",
        "high",
        "F350F370",
        "A35",
        "-350",
    ),
    "off_block": (
        "2500",
        "1430 LT",
        "2:30 pm",
        "24:00",
        "1430-0500",
        "2023-02-01 2023-02-02 1430",
        "2023-02-01 14",
        "01 1430",
        "soon",
        "3/12/2026",
        "03/02/23",
        "230201",
        "2023-02-30",
        "01FOO23",
        "tomorrow",
        "32JAN23",
    ),
    "wind": (
        "270",
        "strong",
        "361/45",
        "270/301",
        "VRB05KT",
        "27050G60KT",
        "270 50",
        "F35 270/50",
        "36145",
        "27050MPS",
        "W 50",
        "+45",
    ),
    "departure_runway": ("banana", "270", "R27", "09/27"),
    "alternate": ("-", "?", "XVMA +", "(none)"),
    "approach": ("banana", "27", "18R", "ILS", "RNP 18R", "ILS 18X5"),
    "rules": ("X", "IV", "instrument"),
    "role": ("planned",),
}
FORMS = [(name, text, value) for name, forms in READ.items() for text, value in forms.items()]
NO_FORMS = [(name, text) for name, texts in UNREAD.items() for text in texts]


def test_there_are_as_many_as_asked_for():
    assert len(FORMS) >= 120


@pytest.mark.parametrize(("name", "text", "value"), FORMS)
def test_a_form_is_read(name, text, value):
    field = BY_NAME[name]
    read = read_texts([(field, text)])
    assert (read.values, read.faults) == ({name: value}, {})
    assert read_texts([(field, field.kind.write_text(value))]).values == {name: value}


@pytest.mark.parametrize(("name", "text"), NO_FORMS)
def test_what_is_no_form_is_said(name, text):
    read = read_texts([(BY_NAME[name], text)])
    assert not read.values[name] or name == "role"
    assert read.faults[name].startswith(f"“{text}” is no")


def test_every_form_is_read_from_a_row_and_from_a_route_file():
    for name, text, value in FORMS:
        field = BY_NAME[name]
        from_file = read_route_file(f'route = "A"\n{field.file_key} = "{text}"\n', "f")
        assert (getattr(from_file, name), from_file.typed) == (value, ())
        if field.column:
            out = io.StringIO()
            csv.writer(out).writerows([[name, "departure", "destination", "route"], [text, "XVAL", "XVOR", "DCT"]])
            (from_row,) = read_rows(out.getvalue().encode(), "rows.csv")
            assert (getattr(from_row, name), from_row.typed) == (value, ())


@pytest.mark.parametrize(("name", "text"), NO_FORMS)
def test_what_is_no_form_is_kept_as_typed_and_named(name, text):
    field = BY_NAME[name]
    from_file = read_route_file(f'route = "A"\n{field.file_key} = "{text}"\n', "f")
    if name == "role":
        assert [one.name for one in from_file.not_used] == ["role"]
    else:
        assert settle_fields(from_file).typed == ((name, text),)
        assert f"“{text}” is no" in explain_unread(name, text)


def test_settling_twice_changes_nothing():
    once = settle_fields(read_route_file('route = "A"\nlevel = "F35O"\nspeed = "450"\n', "f"))
    assert settle_fields(once) == once
    assert (once.level, once.speed, once.typed) == ("", "N0450", (("level", "F35O"),))
