"""Whatever stands in the files that the window saves: it starts, says so in a sentence, and loses no file."""

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from full_input import FULL_INPUT

from routecheck.gui import persistence
from routecheck.gui.input_bounds import LONGEST_TEXT
from routecheck.gui.window import MainWindow

Open = Callable[..., MainWindow]
DEEP = "[" * 50_000 + "]" * 50_000


def entry(**values: object) -> bytes:
    return json.dumps({"schema": 1, "entry": {"route": "LENDU", "role": "filed", **values}}).encode()


SESSIONS: dict[str, bytes] = {
    "a list for the route input": b'{"schema":1,"entry":[1]}',
    "a number for it": b'{"schema":1,"entry":1}',
    "nothing for it": b'{"schema":1,"entry":null}',
    "none of it": b'{"schema":1}',
    "no route": b'{"schema":1,"entry":{"role":"pilot"}}',
    "half a mark": b"{",
    "a byte of zero": b"\x00",
    "a list": b"[]",
    "deep nesting": b'{"schema":1,"entry":' + DEEP.encode() + b"}",
    "deep nesting alone": DEEP.encode(),
    "deep nesting within": b'{"schema":1,"entry":{"route":' + b"[" * 500 + b"]" * 500 + b"}}",
    "a later schema": b'{"schema":2,"entry":{"route":"LENDU","role":"filed"}}',
    "a schema of text": b'{"schema":"1","entry":{"route":"LENDU"}}',
    "a schema that is true": b'{"schema":true,"entry":{"route":"LENDU","role":"filed"}}',
    "an endless schema": b'{"schema":1e999,"entry":{"route":"LENDU","role":"filed"}}',
    "nothing": b"",
    "half of it": entry()[:-5],
    "binary": bytes(range(256)) * 40,
    "no UTF-8": entry().replace(b"LENDU", b"\xff\xfe\x80"),
    "5,000 digits": b'{"schema":1,"entry":{"route":' + b"9" * 5_000 + b"}}",
    "a route that is a number": entry(route=5),
    "a route that is too long": entry(route="A" * (LONGEST_TEXT + 1)),
    "a departure that is a list": entry(departure=["XVAL"]),
    "an alternate that is text": entry(alternate="XVMA"),
    "a day that is none": entry(off_block="2026-13-45"),
    "a role that is none": entry(role="pilot"),
    "claims that are numbers": entry(claims=[1, 2]),
    "a claim to a number": entry(claims=[{"to": 5}]),
    "a claim of text": entry(claims=[{"to": "PIKAR", "distance_nm": "93"}]),
    "a claim that is no number": b'{"schema":1,"entry":{"route":"A","claims":[{"to":"PIKAR","distance_nm":NaN}]}}',
    "a claim of what there is not": entry(claims=[{"to": "PIKAR", "nonsense": 1}]),
    "windows of numbers": entry(windows=[{"point": 1, "low_ft": "a", "high_ft": None}]),
    "a change of nothing": entry(changed=[{"old": None, "new": "A"}]),
    "remarks that are a number": entry(remarks=5),
    "remarks that are numbers": entry(remarks=[5]),
    "typed values without a text": entry(typed=[["level"]]),
    "a pasted text of a number": entry(pasted={"text": 5, "pieces": [], "parts": []}),
    "a pasted text without parts": entry(pasted={"text": "A"}),
    "a stretch beyond the pasted text": entry(
        pasted={"text": "A", "pieces": [{"start": 0, "span": [0, 9]}], "parts": []}
    ),
    "a stretch of no text": entry(pasted={"text": "A", "pieces": [], "parts": [{"span": "no", "name": "x"}]}),
    "what is not used without its kind": entry(not_used=[{"name": "x"}]),
}


def put(content: bytes, name: str = persistence.LAST_ROUTE) -> Path:
    folder = persistence.data_folder()
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_bytes(content)
    return folder


@pytest.mark.parametrize("content", SESSIONS.values(), ids=SESSIONS)
def test_it_is_put_aside_whole_and_said(content: bytes) -> None:
    folder, remarks = put(content), list[str]()
    assert persistence.read_route(remarks=remarks) is None
    assert (folder / "last_route.unreadable").read_bytes() == content
    assert not (folder / persistence.LAST_ROUTE).exists()
    (remark,) = remarks
    assert remark.startswith("The last route is not used: it ")
    assert remark.endswith("Its file is kept as last_route.unreadable.")
    assert persistence.read_route(remarks=remarks) is None
    assert len(remarks) == 1


@pytest.mark.parametrize("name", ["a list for the route input", "deep nesting", "a claim to a number"])
def test_the_window_starts_and_says_so(opened: Open, name: str) -> None:
    put(SESSIONS[name])
    window = opened()
    assert "PIKOR" in window.text.toPlainText()
    assert "The last route is not used: it cannot be read." in window.status.message.text()


def test_one_put_aside_never_takes_the_place_of_another() -> None:
    contents = [f'{{"schema": {number}}}'.encode() for number in range(2, 6)]
    for content in contents:
        folder = put(content)
        assert persistence.read_route() is None
    kept = ["last_route.unreadable", *[f"last_route-{number}.unreadable" for number in (2, 3, 4)]]
    assert [(folder / name).read_bytes() for name in kept] == contents


@pytest.mark.parametrize("kind", ["folder", "pipe", "link to nothing"])
def test_what_is_no_file_is_put_aside_too(kind: str) -> None:
    path = put(b"") / persistence.LAST_ROUTE
    path.unlink()
    if kind == "folder":
        path.mkdir()
    elif kind == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to("nowhere")
    remarks: list[str] = []
    assert persistence.read_route(remarks=remarks) is None
    assert len(remarks) == 1
    persistence.write_route(FULL_INPUT)
    assert persistence.read_route() == FULL_INPUT


LAYOUTS = {
    "wrong types": b'{"schema":1,"geometry":5,"split":[1],"panes":{},"views":null,"theme":[],"legs":"x","side":7}',
    "nonsense in it": b'{"schema":1,"geometry":"////","split":"AAAA","theme":"\\u0000","demo":[]}',
    "a later schema": b'{"schema":9}',
    "a list": b"[]",
    "deep nesting": DEEP.encode(),
}


@pytest.mark.parametrize("content", LAYOUTS.values(), ids=LAYOUTS)
def test_whatever_the_saved_layout_is_the_window_starts(opened: Open, content: bytes) -> None:
    folder = put(content, persistence.LAYOUT)
    window = opened()
    assert window.text.toPlainText()
    if b'"schema":1' not in content:
        assert "The saved layout of the window is not used: it " in window.status.message.text()
        assert (folder / "window.unreadable").read_bytes() == content


def test_a_full_route_comes_back_as_it_was() -> None:
    persistence.write_route(FULL_INPUT)
    assert persistence.read_route() == FULL_INPUT
