"""Hostile TOML in route files, settings and Aircraft sheets: what is bad costs itself, and is said."""

import datetime as dt
import time
from collections.abc import Callable

import pytest
from hostile_toml import FIGURES, ROUTE, ROUTE_FILES, SHAPED

from routecheck.checks.catalogue import bounds, collect
from routecheck.faults import UsageError
from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.assessment_view import view_assessment
from routecheck.reading import altitude_windows, input_fields, route_file
from routecheck.reading.inputs import read_input
from routecheck.report import jsonl, text
from routecheck.settings import Settings, load_settings, read_sheet, save_limits, write_sheet
from routecheck.settings.toml_parsing import parse_toml

DEMO = demo_database()
BOUNDS = bounds(collect())


def told(route_input: RouteInput) -> str:
    not_used = [f"{one.name} {one.where} {one.because}" for one in route_input.not_used]
    return "\n".join((route_input.unread, *route_input.remarks, *not_used))


def or_sentence(write: Callable[[], str]) -> str | None:
    """What was written; None where it was refused in a sentence."""
    try:
        return write()
    except (ValueError, UsageError) as refused:
        return None if str(refused) else ""


@pytest.mark.parametrize("content", ROUTE_FILES.values(), ids=ROUTE_FILES)
def test_a_route_file_costs_no_more_than_itself(content):
    begun = time.process_time()
    (route_input,) = read_input(content, "given.route.toml")
    assert time.process_time() - begun < 1.0
    assert "our program failed" not in told(route_input)
    answer = assess(route_input, DEMO, Settings(), dt.date(2026, 12, 3))
    assert (answer.failure, answer.could_not_run) == ("", ())
    assert jsonl.format_line(answer)
    assert text.describe_route(answer)
    assert view_assessment(answer).headline
    assert bool(route_input.unread) != bool(route_input.route.strip())


@pytest.mark.parametrize("content", ROUTE_FILES.values(), ids=ROUTE_FILES)
@pytest.mark.slow
def test_it_is_written_again_or_left_as_it_is_in_a_sentence(content):
    try:
        existing = content.decode("utf-8")
    except UnicodeDecodeError:
        return  # the window says that of itself, before it writes
    (before,) = read_input(content, "given.route.toml")
    written = or_sentence(lambda: route_file.write_route_file(RouteInput("LENDU DCT PIKAR"), existing))
    if written is None:
        return
    assert not before.unread or not existing.strip() or existing.startswith("#")
    (after,) = read_input(written.encode(), "given.route.toml")
    assert after.route == "LENDU DCT PIKAR"


@pytest.mark.parametrize("name", ["a dotted key of 100 KB", "a header of 100 KB", "a plain key of 100 KB"])
def test_a_key_of_100_kb_takes_no_time(name):
    begun = time.process_time()
    parse_toml(SHAPED[name])
    assert time.process_time() - begun < 0.1


def test_a_key_of_many_parts_is_refused_and_said():
    (route_input,) = read_input(SHAPED["a dotted key of 100 KB"].encode(), "given.route.toml")
    assert route_input.unread == "the route file is broken: a key in it has more than 60 parts"


@pytest.mark.parametrize("sign", ["", "-", "+"])
def test_an_integer_of_5000_figures_costs_itself_and_its_line_is_said(sign):
    content = f'{ROUTE}[[claim]]\nto = "PIKAR"\ndistance_nm = 64.0\ntime_min = {sign}{FIGURES["5,000 nines"]}\n'
    (route_input,) = read_input(content.encode(), "given.route.toml")
    assert [(claim.to, claim.distance_nm, claim.time_min) for claim in route_input.claims] == [("PIKAR", 64.0, None)]
    assert "a number out of all bounds in line 7" in told(route_input)


@pytest.mark.parametrize("shape", ['"{}"', "'{}'", '"""\n{}\n"""', "'''{}'''", '"A" # = {}', r'"\"{}"'])
def test_figures_in_a_text_or_a_remark_are_no_number(shape):
    digits = "9" * 5_000
    document, why = parse_toml(f"title = {shape.format(digits)}\n")
    assert why == ""
    assert document["title"].count("9") in (0, 5_000)


def test_dots_in_a_route_are_no_parts_of_a_key():
    (route_input,) = read_input(SHAPED["a route of 2,000 dots"].encode(), "given.route.toml")
    assert route_input.route == "A." * 2_000


# ---- settings


@pytest.mark.parametrize("name", FIGURES)
def test_one_bad_limit_costs_itself(name, tmp_path):
    path = tmp_path / "settings.toml"
    path.write_text(f"[limits.leg-too-long]\ntimes_median = {FIGURES[name]}\nlonger_than_nm = 400\n", "utf-8")
    settings = load_settings(BOUNDS, tmp_path)
    assert settings.limits == {"leg-too-long": {"longer_than_nm": 400.0}}
    assert len(settings.remarks) == 1
    assert "our program failed" not in settings.remarks[0]
    assert len(settings.remarks[0]) < 300


@pytest.mark.parametrize("name", [*FIGURES, *SHAPED])
def test_whatever_stands_in_settings_and_a_sheet_the_others_are_used(name, tmp_path):
    document = SHAPED.get(name) or f"schema = {FIGURES.get(name, 1)}\n"
    (tmp_path / "settings.toml").write_bytes(document.encode("utf-8", "surrogatepass"))
    (tmp_path / "aircraft").mkdir()
    (tmp_path / "aircraft" / "a.toml").write_bytes(document.encode("utf-8", "surrogatepass"))
    (tmp_path / "aircraft" / "b.toml").write_text('name = "Mine"\ncruise_tas = 450\n', "utf-8")
    begun = time.process_time()
    settings = load_settings(BOUNDS, tmp_path)
    assert time.process_time() - begun < 2.0
    assert settings.limits == {}
    assert settings.own_sheet_names == ("Mine",)
    assert any("a.toml" in remark for remark in settings.remarks)
    assert not any("our program failed" in remark for remark in settings.remarks)
    try:
        save_limits({"leg-too-long": {"times_median": 5.0}}, BOUNDS, tmp_path)
    except UsageError:
        assert (tmp_path / "settings.toml").read_bytes() == document.encode("utf-8", "surrogatepass")
    else:
        assert load_settings(BOUNDS, tmp_path).limits == {"leg-too-long": {"times_median": 5.0}}


@pytest.mark.parametrize("name", FIGURES)
def test_one_bad_figure_of_a_sheet_costs_itself(name):
    content = f'name = "Mine"\ncruise_tas = {FIGURES[name]}\nceiling = {{value = {FIGURES[name]}}}\nbank = 20\n'
    sheet, remarks = read_sheet(content, "mine.toml")
    assert sheet is not None
    assert (sheet.bank_deg, sheet.cruise_tas_kt, sheet.ceiling_ft) == (20.0, None, None)
    assert len(remarks) >= 2
    written = or_sentence(lambda: write_sheet(sheet, content))
    assert written is None or read_sheet(written, "mine.toml")[0] == sheet


# ---- fences


def test_what_raises_in_one_table_costs_that_table(monkeypatch):
    real = altitude_windows.AltitudeWindow

    def raising(point, *altitudes):
        if point == "PIKAR":
            raise ZeroDivisionError("planted")
        return real(point, *altitudes)

    monkeypatch.setattr(altitude_windows, "AltitudeWindow", raising)
    tables = "".join(f'[[window]]\npoint = "{point}"\nlow_ft = 9000\n' for point in ("PIKAR", "SARNO"))
    (route_input,) = read_input((ROUTE + tables).encode(), "given.route.toml")
    assert [window.point for window in route_input.windows] == ["SARNO"]
    assert "window 1  our program failed on it (ZeroDivisionError: planted)" in told(route_input)


def test_what_raises_in_one_field_costs_that_field(monkeypatch):
    title = next(field for field in input_fields.INPUT_FIELDS if field.name == "title")

    def raising(*_given):
        raise ZeroDivisionError("planted")

    monkeypatch.setattr(type(title.kind), "read_value", raising, raising=False)
    (route_input,) = read_input((ROUTE + 'title = "T"\n').encode(), "given.route.toml")
    assert "our program failed on it" in told(route_input)


def test_what_raises_in_one_file_costs_that_file(monkeypatch):
    def raising(*_given, **_named):
        raise ZeroDivisionError("planted")

    monkeypatch.setattr(route_file, "RouteInput", raising)
    (route_input,) = read_input(ROUTE.encode(), "given.route.toml")
    assert route_input.unread == "our program failed on it (ZeroDivisionError: planted); nothing more of it is read"
    assert [one.route for one in read_input(b"LENDU DCT PIKAR", "given.txt")] == ["LENDU DCT PIKAR"]
