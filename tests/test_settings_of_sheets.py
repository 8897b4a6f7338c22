"""Own Aircraft sheets as the window edits them: typed values with units, one file a sheet, none overwritten."""

import pytest

from routecheck.model import AircraftSheet
from routecheck.settings import UsageError, load_settings, remove_sheet, save_sheet
from routecheck.settings.sheets import QUANTITIES, contradictions, shipped_sheets

BY_KEY = {quantity.key: quantity for quantity in QUANTITIES}


@pytest.mark.parametrize(
    ("key", "text", "unit", "value"),
    [
        ("climb_cas", " 290 ", "kt", 290.0),
        ("climb_cas", "", "kt", None),
        ("cruise_tas", "185.2", "km/h", 100.0),
        ("ceiling", "410", "FL", 41_000.0),
        # 1 % is 60.76 ft in a nautical mile of 1,852 m: the definition of both
        ("usual_climb", "5", "%", 303.806),
        ("tank", "19", "t", 19_000.0),
        ("cruise_mach", "0.78", "", 0.78),
    ],
)
def test_a_value_is_read_in_any_of_its_units(key, text, unit, value):
    read, why = BY_KEY[key].parse(text, unit)
    assert why == ""
    assert read == (value if value is None else pytest.approx(value, abs=0.001))


@pytest.mark.parametrize(
    ("key", "text", "unit", "why"),
    [
        ("climb_cas", "900", "kt", "900 is out of bounds: from 40 to 400 kt"),
        ("climb_cas", "900", "km/h", "900 is out of bounds: from 74.1 to 741 km/h"),
        ("cruise_mach", "78", "", "78 is out of bounds: from 0.2 to 0.95"),
        ("cruise_mach", "0,78", "", "“0,78” is no number: written 0.78 or 41000"),
        ("ceiling", "nan", "ft", "“nan” is no number"),
        ("ceiling", "inf", "ft", "“inf” is no number"),
        ("ceiling", "high", "ft", "“high” is no number"),
    ],
)
def test_what_is_out_of_range_is_refused_with_the_reason_in_the_unit_typed(key, text, unit, why):
    assert BY_KEY[key].parse(text, unit)[0] is None
    assert BY_KEY[key].parse(text, unit)[1].startswith(why)


def test_usual_gradients_above_the_greatest_contradict():
    values = {quantity.fills: None for quantity in QUANTITIES}
    assert contradictions(values) == {}
    steep = values | {"usual_climb_ft_nm": 600.0, "greatest_climb_ft_nm": 500.0}
    assert contradictions(steep) == {"usual_climb_ft_nm": "it is above greatest_climb"}


def test_a_copy_is_the_users_own_and_says_so(tmp_path):
    save_sheet(AircraftSheet("Ours", cruise_tas_kt=450.0), tmp_path)
    settings = load_settings({}, tmp_path)
    assert settings.own_sheet_names == ("Ours",)
    assert len(settings.sheets) == len(shipped_sheets()) + 1


def test_a_sheet_renamed_keeps_its_file_and_what_else_stands_in_it(tmp_path):
    (tmp_path / "aircraft").mkdir()
    file = tmp_path / "aircraft" / "anything.toml"
    file.write_text('name = "Ours" # mine\ncruise_tas = 450\nfoo = 1\n')
    save_sheet(AircraftSheet("Theirs", cruise_tas_kt=460.0), tmp_path, instead_of="ours")
    assert [path.name for path in (tmp_path / "aircraft").iterdir()] == ["anything.toml"]
    assert "# mine" in file.read_text()
    assert "foo = 1" in file.read_text()
    assert load_settings({}, tmp_path).own_sheet_names == ("Theirs",)


def test_no_sheet_takes_the_place_of_another(tmp_path):
    save_sheet(AircraftSheet("A/B", cruise_tas_kt=100.0), tmp_path)
    save_sheet(AircraftSheet("A-B", cruise_tas_kt=200.0), tmp_path)
    assert set(load_settings({}, tmp_path).own_sheet_names) == {"A/B", "A-B"}
    with pytest.raises(UsageError, match="another sheet of yours is called “A/B”"):
        save_sheet(AircraftSheet("a/b"), tmp_path, instead_of="A-B")


def test_a_sheet_is_removed_and_no_other(tmp_path):
    save_sheet(AircraftSheet("Ours"), tmp_path)
    save_sheet(AircraftSheet("Theirs"), tmp_path)
    remove_sheet("ours", tmp_path)
    assert load_settings({}, tmp_path).own_sheet_names == ("Theirs",)
    with pytest.raises(UsageError, match="no sheet of yours is called “Medium jet”"):
        remove_sheet("Medium jet", tmp_path)
