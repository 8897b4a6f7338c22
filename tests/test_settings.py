"""Settings and Aircraft sheets: bounds, units, unknown keys kept and named, and nothing a user writes is fatal."""

import tomllib
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import AircraftSheet
from routecheck.settings import (
    Bound,
    DataError,
    Settings,
    UsageError,
    config_folder,
    load_settings,
    read_limits,
    read_sheet,
    save_limits,
    save_sheet,
    shipped_sheets,
    write_limits,
    write_sheet,
)
from routecheck.settings.documents import read_document
from routecheck.settings.sheets import QUANTITIES

BOUNDS = {
    "dogleg": {"d_value_nm": Bound(1.0, 100.0, "NM")},
    "steep": {"note_ft_nm": Bound(100.0, float("inf"), "ft/NM"), "doubtful_ft_nm": Bound(100.0, 1_000.0, "ft/NM")},
}


# ---- documents


def test_an_older_schema_is_brought_up_step_by_step():
    steps = (lambda d: {**d, "b": d.pop("a")}, lambda d: {**d, "c": d["b"] + 1})
    assert read_document("schema = 1\na = 4", steps)[0]["c"] == 5
    assert read_document("a = 4", steps)[0]["c"] == 5
    assert read_document("schema = 2\nb = 7", steps)[0]["c"] == 8
    assert read_document("schema = 3\nc = 9", steps) == ({"schema": 3, "c": 9}, "")


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("schema = 2", "it is of schema 2, from a later version of Routecheck; this version reads schema 1"),
        ("schema = 0", "its schema must be a whole number"),
        ("schema = true", "its schema must be a whole number"),
        ("schema = '1'", "its schema must be a whole number"),
        ("schema = ", "it is broken (invalid value"),
        ("x = " + "[" * 5000, "it is broken (a number or a list in it is out of all bounds)"),
    ],
)
def test_a_document_that_is_not_used_says_why(text, why):
    document, said = read_document(text, ())
    assert document == {}
    assert said.startswith(why)


# ---- limits


def test_changed_limits_are_read():
    text = "schema = 1\n[limits.dogleg]\nd_value_nm = 20\n[limits.steep]\nnote_ft_nm = 350.5\n"
    assert read_limits(text, BOUNDS) == ({"dogleg": {"d_value_nm": 20.0}, "steep": {"note_ft_nm": 350.5}}, ())


LIMIT_REMARKS = [
    ("[limits.dogleg]\nd_value_nm = 0.5", "d_value_nm of dogleg; 0.5 is out of bounds: from 1 to 100 NM."),
    ("[limits.dogleg]\nd_value_nm = 101", "d_value_nm of dogleg; 101 is out of bounds: from 1 to 100 NM."),
    ("[limits.steep]\nnote_ft_nm = 5", "note_ft_nm of steep; 5 is too little: the lowest is 100 ft/NM."),
    ("[limits.dogleg]\nd_value_nm = nan", "d_value_nm of dogleg; it must be a number."),
    ("[limits.dogleg]\nd_value_nm = inf", "d_value_nm of dogleg; it must be a number."),
    ("[limits.dogleg]\nd_value_nm = true", "d_value_nm of dogleg; it must be a number."),
    ("[limits.dogleg]\nd_value_nm = '20'", "d_value_nm of dogleg; it must be a number."),
    ("[limits.dogleg]\nfoo = 1", "foo of dogleg; the check has no such limit."),
    ("[limits.dogleggg]\nd_value_nm = 20", "limits of “dogleggg”; there is no such check."),
    ("limits = 3", "limits; it must be a table."),
    ("[limits]\ndogleg = 3", "limits.dogleg; it must be a table."),
    ("foo = 1", "the unknown key “foo”."),
]


@pytest.mark.parametrize(("text", "remark"), LIMIT_REMARKS)
def test_what_is_not_used_of_the_settings_is_named(text, remark):
    changed, remarks = read_limits(text, BOUNDS)
    assert changed == {}
    assert remarks == (f"Not used in the settings: {remark}",)


def test_one_bad_limit_leaves_the_good_ones():
    text = "[limits.steep]\nnote_ft_nm = 5\ndoubtful_ft_nm = 410\n[limits.dogleg]\nd_value_nm = 20"
    changed, remarks = read_limits(text, BOUNDS)
    assert changed == {"steep": {"doubtful_ft_nm": 410.0}, "dogleg": {"d_value_nm": 20.0}}
    assert len(remarks) == 1


def test_the_bounds_themselves_are_in_order():
    text = "[limits.steep]\ndoubtful_ft_nm = 1000\nnote_ft_nm = 100"
    assert read_limits(text, BOUNDS) == ({"steep": {"doubtful_ft_nm": 1_000.0, "note_ft_nm": 100.0}}, ())


MINE = """\
# my settings
schema = 1
foo = 1 # of a later version

[limits.dogleg]
d_value_nm = 20 # quieter
bar = 2

[limits.gone]
x = 1
"""


def test_writing_keeps_comments_and_what_is_not_known():
    written = write_limits({"steep": {"doubtful_ft_nm": 420.0}}, BOUNDS, MINE)
    document = tomllib.loads(written)
    assert document["limits"] == {"dogleg": {"bar": 2}, "gone": {"x": 1}, "steep": {"doubtful_ft_nm": 420}}
    assert document["foo"] == 1
    assert written.startswith("# my settings\n")
    assert "# of a later version" in written
    assert "doubtful_ft_nm = 420\n" in written


def test_writing_what_is_there_changes_nothing():
    assert write_limits({"dogleg": {"d_value_nm": 20.0}}, BOUNDS, MINE) == MINE


def test_limits_out_of_bounds_are_not_written():
    for changed in ({"dogleg": {"d_value_nm": 0.5}}, {"dogleg": {"foo": 1.0}}, {"foo": {"foo": 1.0}}):
        with pytest.raises(UsageError):
            write_limits(changed, BOUNDS)


@pytest.mark.parametrize("text", ["schema = 2", "schema = "])
def test_a_file_that_is_not_understood_is_left_as_it_is(text):
    with pytest.raises(UsageError, match="left as it is"):
        write_limits({}, BOUNDS, text)


@pytest.mark.parametrize("text", ["limits = 3", "limits.dogleg = 3", ""])
def test_what_was_no_table_becomes_one(text):
    written = write_limits({"dogleg": {"d_value_nm": 20.0}}, BOUNDS, text)
    assert tomllib.loads(written) == {"schema": 1, "limits": {"dogleg": {"d_value_nm": 20}}}


VALUES = st.floats(1.0, 100.0, allow_nan=False)


@given(st.none() | VALUES, st.none() | st.floats(100.0, 1_000.0))
def test_limits_written_are_read_back(value, other):
    changed = {}
    if value is not None:
        changed["dogleg"] = {"d_value_nm": value}
    if other is not None:
        changed["steep"] = {"doubtful_ft_nm": other}
    for existing in (None, MINE):
        back, remarks = read_limits(write_limits(changed, BOUNDS, existing), BOUNDS)
        assert back == changed
        assert len(remarks) == (3 if existing else 0)


# ---- Aircraft sheets

SHEET = """\
schema = 1
name = "My jet"
climb_cas = { value = 290, unit = "kt", remark = "chapter 4" }
cruise_mach = 0.78
greatest_descent = { value = 7.5, unit = "%" }
ceiling = { value = 390, unit = "FL" }
landing_weight = { value = 145505, unit = "lb" }
"""


def test_values_come_with_their_units():
    sheet, remarks = read_sheet(SHEET, "mine.toml")
    assert remarks == ()
    assert sheet == AircraftSheet(
        "My jet",
        typical=False,
        climb_cas_kt=290.0,
        cruise_mach=0.78,
        greatest_descent_ft_nm=pytest.approx(455.7, abs=0.05),  # 7.5 %, one per cent being 60.76 ft/NM
        ceiling_ft=39_000.0,
        landing_kg=pytest.approx(66_000, abs=1),
    )


SHEET_REMARKS = [
    ("ceiling = 100", "ceiling; 100 is out of bounds: from 1000 to 65000 ft."),
    ("ceiling = { value = 20, unit = 'km' }", "ceiling; its unit must be “ft” or “m” or “FL”."),
    ("ceiling = { value = 20, unit = 3 }", "ceiling; its unit must be “ft” or “m” or “FL”."),
    ("ceiling = 'high'", "ceiling; it must be a number, or a table with value and unit."),
    ("ceiling = { unit = 'ft' }", "ceiling; it must be a number, or a table with value and unit."),
    ("ceiling = nan", "ceiling; it must be a number, or a table with value and unit."),
    ("cruise_mach = 78", "cruise_mach; 78 is out of bounds: from 0.2 to 0.95."),
    ("cruise_fuel = { value = 8, unit = 'gal/h' }", "cruise_fuel; its unit must be “kg/h” or “lb/h” or “kg/min”."),
    ("foo = 1", "the unknown key “foo”."),
    ("bank = { value = 20, unit = '°', note = 'x' }", "the unknown key “note” of bank."),
    ("usual_climb = 400\ngreatest_climb = 300", "usual_climb; it is above greatest_climb."),
    ("usual_descent = 400\ngreatest_descent = 300", "usual_descent; it is above greatest_descent."),
    ("typical = 1", "typical; it must be true or false. The figures are taken for typical ones."),
]


@pytest.mark.parametrize(("text", "remark"), SHEET_REMARKS)
def test_what_is_not_used_of_a_sheet_is_named(text, remark):
    sheet, remarks = read_sheet(f"name = 'Mine'\nclimb_cas = 200\n{text}\n", "mine.toml")
    assert sheet is not None
    assert sheet.climb_cas_kt == 200.0
    assert remarks == (f"Not used of the Aircraft sheet “Mine”: {remark}",)
    assert sheet.ceiling_ft is None
    assert sheet.usual_climb_ft_nm is None


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("climb_cas = 3", "it has no name"),
        ("name = 3", "it has no name"),
        ("name = ' '", "it has no name"),
        ("schema = 2\nname = 'A'", "it is of schema 2"),
        ("name = ", "it is broken"),
    ],
)
def test_sheets_that_cannot_be_used(text, why):
    sheet, remarks = read_sheet(text, "mine.toml")
    assert sheet is None
    assert remarks[0].startswith(f"The Aircraft sheet mine.toml is not used: {why}")


def test_every_value_of_the_model_has_a_key_with_bounds():
    values = [f.name for f in fields(AircraftSheet) if f.name not in ("name", "typical")]
    assert [q.fills for q in QUANTITIES] == values
    assert len({q.key for q in QUANTITIES}) == len(QUANTITIES)
    assert all(q.lowest < q.highest for q in QUANTITIES)


def test_a_changed_value_is_written_and_the_others_keep_unit_and_remark():
    sheet, _ = read_sheet(SHEET, "")
    text = SHEET + "foo = 1 # mine\n"
    written = write_sheet(replace(sheet, cruise_mach=0.8, ceiling_ft=None), text)
    expected = text.replace("cruise_mach = 0.78", "cruise_mach = {value = 0.8}")
    expected = expected.replace('ceiling = { value = 390, unit = "FL" }\n', "")
    assert written == expected + "typical = false\n"


def test_a_sheet_out_of_bounds_or_over_a_later_file_is_not_written():
    with pytest.raises(UsageError, match="ceiling: 70000 is out of bounds"):
        write_sheet(AircraftSheet("A", ceiling_ft=70_000.0))
    with pytest.raises(UsageError, match="left as it is: it is of schema 2"):
        write_sheet(AircraftSheet("A"), "schema = 2")


@st.composite
def own_sheets(draw):
    values = {
        q.fills: draw(st.none() | st.floats(q.lowest, q.highest))
        for q in QUANTITIES
        if q.fills not in ("usual_climb_ft_nm", "usual_descent_ft_nm")
    }
    name = draw(st.text(st.characters(exclude_categories=["Cs"]), min_size=1).map(str.strip).filter(bool))
    return AircraftSheet(name, typical=draw(st.booleans()), **values)


@given(own_sheets())
def test_a_sheet_written_is_read_back(sheet):
    assert read_sheet(write_sheet(sheet), "x") == (sheet, ())


PIECES = ["name", "schema", "=", "'A'", "1", "[limits.dogleg]", "d_value_nm", "ceiling", "{", "}", "value", "nan", "\n"]
LIKE_FILES = st.lists(st.sampled_from(PIECES), max_size=20).map(" ".join)


@given(st.text() | LIKE_FILES)
def test_any_text_is_read_without_a_complaint_of_python(text):
    sheet, remarks = read_sheet(text, "x")
    assert sheet is not None or remarks
    read_limits(text, BOUNDS)


# ---- the shipped sheets


def test_five_typical_classes_are_shipped():
    names = [sheet.name for sheet in shipped_sheets()]
    assert names == ["Piston single", "Turboprop", "Light jet", "Medium jet", "Long-haul jet"]
    for sheet in shipped_sheets():
        assert sheet.typical
        assert sheet.greatest_climb_ft_nm is not None
        assert sheet.greatest_descent_ft_nm is not None
        assert sheet.bank_deg is not None
        assert sheet.ceiling_ft is not None
        assert sheet.cruise_fuel_kg_h is not None
        weights = (sheet.zero_fuel_kg, sheet.take_off_kg, sheet.landing_kg, sheet.tank_kg)
        assert weights == (None,) * 4


def test_every_shipped_value_says_that_it_is_typical(root):
    for path in (root / "resources" / "aircraft").glob("*.toml"):
        document = tomllib.loads(path.read_text("utf-8"))
        values = {key: value for key, value in document.items() if key not in ("schema", "name", "typical")}
        assert document["schema"] == 1
        assert len(values) >= 12
        for value in values.values():
            assert value["remark"] == "typical, replace with your manual's"
            assert "unit" in value or value["value"] < 1


# ---- the user's folder


def test_nothing_there_is_the_defaults(tmp_path):
    assert load_settings(BOUNDS, tmp_path / "nowhere") == Settings()


def test_the_folder_is_the_platforms_own(tmp_path):
    assert config_folder().name == "routecheck"
    assert load_settings(BOUNDS) == Settings()


def test_own_sheets_stand_before_shipped_ones_of_the_same_name(tmp_path):
    save_sheet(AircraftSheet("medium JET", ceiling_ft=39_000.0), tmp_path)
    save_sheet(AircraftSheet("Ours", ceiling_ft=39_000.0), tmp_path)
    settings = load_settings(BOUNDS, tmp_path)
    assert settings.remarks == ()
    assert len(settings.sheets) == len(shipped_sheets()) + 1
    assert settings.sheet(" Medium jet ") == AircraftSheet("medium JET", ceiling_ft=39_000.0)
    assert settings.sheet("ours") is not None
    assert settings.sheet("Light jet").typical
    assert settings.sheet("Balloon") is None


def test_two_own_sheets_of_one_name_and_files_that_cannot_be_read(tmp_path):
    folder = tmp_path / "aircraft"
    folder.mkdir()
    (folder / "a.toml").write_text("name = 'A'\nceiling = 20000\n")
    (folder / "b.toml").write_text("name = 'a'\nceiling = 30000\n")
    (folder / "c.toml").write_bytes(b"\xff\xfe")
    (folder / "d.toml").mkdir()
    (folder / "e.txt").write_text("name = 'E'")
    settings = load_settings(BOUNDS, tmp_path)
    assert settings.sheet("A").ceiling_ft == 20_000.0
    assert settings.sheet("E") is None
    said = "\n".join(settings.remarks)
    assert "b.toml is not used: another of yours is called “a”." in said
    assert "c.toml is not used: it is not text in UTF-8." in said
    assert "d.toml is not used: it cannot be read" in said


def test_limits_are_kept_from_one_start_to_the_next(tmp_path):
    save_limits({"dogleg": {"d_value_nm": 20.0}}, BOUNDS, tmp_path)
    assert load_settings(BOUNDS, tmp_path).limits == {"dogleg": {"d_value_nm": 20.0}}
    save_limits({}, BOUNDS, tmp_path)
    assert load_settings(BOUNDS, tmp_path).limits == {}
    assert [path.name for path in tmp_path.iterdir()] == ["settings.toml"]


def test_broken_settings_leave_the_defaults_and_are_not_written_over(tmp_path):
    file = tmp_path / "settings.toml"
    for content in (b"schema = 9\n", b"schema = \n", b"\xff\xfe"):
        file.write_bytes(content)
        settings = load_settings(BOUNDS, tmp_path)
        assert settings.limits == {}
        assert settings.remarks[0].startswith("The settings are not used: it ")
        with pytest.raises(UsageError, match="left as it is"):
            save_limits({}, BOUNDS, tmp_path)
        assert file.read_bytes() == content


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(UsageError, match=r"settings\.toml cannot be (read|written)|left as it is"):
        save_limits({}, BOUNDS, tmp_path / "file")


def test_faults_say_where():
    assert str(DataError("a.txt", 3, "it is cut off")) == "a.txt, line 3: it is cut off"
    assert str(DataError("a.txt", None, "it is cut off")) == "a.txt: it is cut off"
