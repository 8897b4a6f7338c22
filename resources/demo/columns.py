"""The columns of a record of the demo region: texts put where they belong, figures written as records have them."""

from __future__ import annotations

from chart import PLAN, Spot

WIDTH = 132


def line(*fields: tuple[int, str]) -> str:
    """A record from (first column, text) pairs; two texts may not share a column."""
    cells = [" "] * WIDTH
    for column, text in (*fields, (1, "S"), (2, PLAN["area"]), (129, PLAN["cycle"])):
        assert all(c == " " for c in cells[column - 1 : column - 1 + len(text)]), (column, text)
        cells[column - 1 : column - 1 + len(text)] = text
    assert len(cells) == WIDTH, fields
    return "".join(cells)


def angle(degrees: float, whole: int) -> str:
    """Degrees as d..dmmssss."""
    minutes, hundredths = divmod(round(abs(degrees) * 360000), 6000)
    return f"{minutes // 60:0{whole}d}{minutes % 60:02d}{hundredths:04d}"


def position(spot: Spot) -> str:
    """Nineteen columns of latitude and longitude."""
    return f"{'S' if spot.lat < 0 else 'N'}{angle(spot.lat, 2)}{'W' if spot.lon < 0 else 'E'}{angle(spot.lon, 3)}"


def variation(degrees: float) -> str:
    """Five columns: E0120 is 12.0 degrees east."""
    return f"{'W' if degrees < 0 else 'E'}{round(abs(degrees) * 10):04d}"


def tenths(value: float) -> str:
    """Four columns of tenths."""
    return f"{round(value * 10):04d}"


def magnetic_course(true_deg: float, variation_deg: float) -> str:
    """Four columns; 360.0 comes out as 000.0."""
    return tenths(round(true_deg - variation_deg, 1) % 360)
