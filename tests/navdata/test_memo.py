"""Answers cached per database: computed once, bounded, of that database alone, gone with it, from any thread."""

import gc
import threading
import time
import weakref

from routecheck.navdata.database import NavDatabase, demo_database, empty_database
from routecheck.navdata.memo import cached_per_database

ASKED: list[str] = []


@cached_per_database(3)
def answered(database: NavDatabase, text: str) -> list[str]:
    ASKED.append(text)
    time.sleep(0.001)
    return [text, *database.names()]


def test_an_answer_is_computed_once_for_each_database() -> None:
    one, other = empty_database(), empty_database()
    ASKED.clear()
    first = answered(one, "a")
    assert answered(one, "a") is first
    assert answered(other, "a") is not first
    assert ASKED == ["a", "a"]


def test_of_too_many_answers_all_are_let_go() -> None:
    database = empty_database()
    ASKED.clear()
    for text in "abcdab":
        assert answered(database, text) == [text]
    assert "".join(ASKED) == "abcdab"
    assert len(database.derived[answered.__wrapped__]) == 3  # type: ignore[attr-defined]


def test_the_key_tells_the_arguments_apart() -> None:
    @cached_per_database(9, key=len)
    def length(_database: NavDatabase, unhashable: list[int]) -> list[int]:
        return unhashable

    database = empty_database()
    first = length(database, [1])
    assert length(database, [2]) is first
    assert length(database, [1, 2]) is not first


def test_answers_do_not_keep_a_database_alive() -> None:
    database = demo_database.__wrapped__()  # type: ignore[attr-defined]
    database.procedure("XVAL", "SID", "LENDU1")
    answered(database, "a")
    known = weakref.ref(database)
    gc.disable()
    try:
        del database
        assert known() is None, "it goes at once, without the collector"
    finally:
        gc.enable()


def test_threads_get_the_same_answer() -> None:
    database = empty_database()
    found: list[list[str]] = []
    threads = [threading.Thread(target=lambda: found.append(answered(database, "a"))) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 8
    assert all(answer is found[0] for answer in found)
