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
