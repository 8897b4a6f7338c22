"""Texts as a reader sees them: cut short, quoted, listed."""

import pytest

from routecheck import formatting


@pytest.mark.parametrize(
    ("text", "quoted"),
    [("", "“”"), ("foo", "“foo”"), ("x" * 60, f"“{'x' * 60}”"), ("x" * 61, f"“{'x' * 59}…”")],
)
def test_what_a_user_typed_is_quoted_and_a_cut_is_seen(text: str, quoted: str) -> None:
    assert formatting.quote(text) == quoted


@pytest.mark.parametrize(
    ("items", "text"), [([], ""), (["A"], "A"), (["A", "B"], "A and B"), (["A", "B", "C"], "A, B and C")]
)
def test_listing(items: list[str], text: str) -> None:
    assert formatting.listing(items) == text
    assert formatting.listing(items, "or") == text.replace("and", "or")


def test_an_altitude_is_a_level_from_where_the_aerodrome_has_levels():
    """Words switched to flight levels at 18,000 ft everywhere in the world."""
    assert formatting.altitude(17_000, 18_000) == "17,000 ft"
    assert formatting.altitude(7_000, 6_000) == "FL070"
    assert formatting.altitudes_allowed(5_000, 7_000, 6_000) == "5,000 ft to FL070"
    assert formatting.altitudes_allowed(None, 6_000, 6_001) == "at or below 6,000 ft"
