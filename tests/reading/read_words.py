"""Short ways to read a text and to write down what it should read as. No tests here."""

from routecheck.model import RouteInput
from routecheck.reading.route_text import read_route


def words(text, **route_input):
    return read_route(RouteInput(text, **route_input)).words


def only(text):
    """The one word of a text that must have one, read behind another word so that it is not the first."""
    first, *rest = words("LN " + text)
    assert first.text == "LN"
    assert len(rest) == 1, rest
    return rest[0]


def said(text, **route_input):
    """Each word as "TEXT kind", with + in front if attached and ! behind if impossible."""
    return [
        f"{'+' if word.attached else ''}{word.text} {word.kind.value}{'!' if word.bad else ''}"
        for word in words(text, **route_input)
    ]
