"""The longest stop of the window's thread while a hostile text is pasted.

`pytest -m bench tests/bench/test_bench_hostile_paste.py -s`. Processor time of the window's thread: pasting, and each
round of the event loop until the answer is drawn.
"""

import time

import pytest
from hostile_texts import DEMO_NAMES, hostile_texts
from PySide6.QtCore import QMimeData
from PySide6.QtWidgets import QApplication

from routecheck.gui.input_bounds import LONGEST_TEXT

pytestmark = [pytest.mark.bench, pytest.mark.qt_log_ignore("This plugin does not support propagateSizeHints")]
MOST_MS = 100
MESSAGE = "(FPL-ABC123-IS\n-B738/M-S/C\n-XVAL1200\n-N0430F350 LENDU DCT PIKAR\n-XVOR0100"
ROUTE_FILE = 'schema = 1\nroute = "LENDU DCT PIKAR"\n'
MADE = {name: make_text(4_000)[:LONGEST_TEXT] for name, make_text in hostile_texts(DEMO_NAMES).items()}
TEXTS = MADE | {
    "one word": "A" * LONGEST_TEXT,
    "lines": "LENDU\n" * (LONGEST_TEXT // 6),
    "blanks": " " * (LONGEST_TEXT - 5) + "LENDU",
    "beyond the first 65,536 characters": "\N{GRINNING FACE}" * LONGEST_TEXT,
    "a message of one word": "(FPL-ABC123-IS\n-B738/M-S/C\n-XVAL1200\n-N0430F350 " + "A" * 23_900 + "\n-XVOR0100)",
    "a message of many lines": "(FPL-ABC123-IS\n" + "-N0430F350 LENDU DCT PIKAR\n" * 880,
    "a nav log": "FIX     DIST  TIME CRS\n" + "LENDU  093  12.5  350\n" * 1_085,
    "rows": "departure,destination,route\n" + "XVAL,XVOR,LENDU\n" * 1_490,
    "a page": "Dear all,\nplease find the route:\n" + "the route is LENDU to PIKAR, then. " * 680,
    "a page of many lines": "N0430F350 LENDU DCT PIKAR\n" + "Dear all,\nplease find the route:\n" * 3_000,
    "a message of many unknown items": f"{MESSAGE}\n-{'FOO/BAR ' * 11_000})",
    "a message with a long remark": f"{MESSAGE}\n-RMK/{'ABC DEF ' * 11_000})",
    "a nav log of many lines": "FIX     DIST  TIME CRS\n" + "LENDU  093  12.5  350\n" * 4_500,
    "many rows": "departure,destination,route\n" + "XVAL,XVOR,LENDU\n" * 6_000,
    "a route file of many claims": ROUTE_FILE + '[[claim]]\nto = "PIKAR"\ndistance_nm = 10\n' * 1_990,
    "a route file of many keys": ROUTE_FILE + "".join(f"key{i} = {i}\n" for i in range(5_000)),
    "a million letters": "A" * 1_000_000,
    "a million blanks": " " * 1_000_000,
    "a million words": "LENDU " * 170_000,
}


def held_ms(job):
    begun = time.thread_time()
    job()
    return 1e3 * (time.thread_time() - begun)


def longest_stop_ms(window, text):
    data, answers = QMimeData(), []
    data.setText(text)
    window.session.assessed.connect(answers.append)
    window.text.selectAll()
    before = window.session.route_input
    stops = [held_ms(lambda: window.text.insertFromMimeData(data))]
    deadline = time.monotonic() + 60
    while window.session.reader.is_reading or (window.session.route_input is not before and not answers):
        assert time.monotonic() < deadline
        stops.append(held_ms(QApplication.processEvents))
        time.sleep(0.001)
    rest = time.monotonic() + 1.0
    while time.monotonic() < rest:
        stops.append(held_ms(QApplication.processEvents))
        time.sleep(0.001)
    window.session.assessed.disconnect(answers.append)
    return max(stops)


def test_no_paste_holds_the_window(demo_window):
    worst = {}
    longest_stop_ms(demo_window, "LENDU DCT PIKAR")
    for name, text in TEXTS.items():
        worst[name] = longest_stop_ms(demo_window, text)
        print(f"\n{name:<36}{len(text):>10,} characters {worst[name]:6.0f} ms", end="", flush=True)
    assert {name: ms for name, ms in worst.items() if ms > MOST_MS} == {}
