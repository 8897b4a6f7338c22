"""Words, marks and symbols on the Picture never cover one another; words keep off lines where they can."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from routecheck.gui.picture.frame import Frame
from routecheck.gui.picture.label_placement import Room, candidates_along, candidates_around, candidates_beside
from routecheck.gui.picture.map_labels import SYMBOL, Shown, lay_out
from routecheck.gui.theme import text_scale
from routecheck.model import Weight
from routecheck.presentation.drawn_map import DrawnPoint, Mark, empty_picture
from routecheck.presentation.selection import Selection
from routecheck.presentation.symbols import Symbol


def apart(one: np.ndarray, other: np.ndarray) -> bool:
    return bool(one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1])


def placed(room: Room, candidates: np.ndarray, *, must: bool) -> list[np.ndarray]:
    chosen = room.place(candidates, must=must)
    return [candidates[i, place] for i, place in enumerate(chosen) if place >= 0]


def one_name(x: float, y: float, width: float = 40, height: float = 12) -> np.ndarray:
    return candidates_beside(np.array([(x, y)]), np.array([(width, height)]))


def squares_at(middles: list[tuple[int, int]]) -> np.ndarray:
    """Squares of 4 pixels that may stand nowhere else."""
    return np.array([[(x - 2, y - 2, x + 2, y + 2)] for x, y in middles], dtype=float)


@pytest.mark.parametrize("groups", [1, 4])
def test_placed_words_do_not_overlap(groups: int) -> None:
    """However many at once: what was placed before counts."""
    room = Room(400, 300)
    spots = np.random.default_rng(7).uniform((0, 0), (400, 300), (480, 2))
    rects = []
    for part in np.array_split(spots, groups):
        rects += placed(room, candidates_beside(part, np.full((len(part), 2), (40.0, 12.0))), must=True)
    assert 30 < len(rects) < 480
    for i, one in enumerate(rects):
        assert all(apart(one, other) for other in rects[i + 1 :])
        assert (one >= 0).all()
        assert one[2] <= 400
        assert one[3] <= 300


def test_a_word_keeps_off_a_line_where_it_can() -> None:
    room = Room(400, 300)
    room.cross(np.array([[200.0, 150.0], [400.0, 100.0]]))
    (rect,) = placed(room, one_name(200, 150), must=True)
    assert rect[1] >= 150 or rect[2] <= 200


def test_a_word_that_must_stand_crosses_a_line_before_it_goes() -> None:
    room = Room(100, 100)
    for y in range(0, 100, 3):
        room.cross(np.array([[0.0, y], [100.0, y]]))
    assert placed(room, one_name(50, 50, 20, 10), must=False) == []
    assert len(placed(room, one_name(50, 50, 20, 10), must=True)) == 1


def test_only_those_that_must_cross_a_line() -> None:
    room = Room(100, 100)
    room.soften(np.array([(50.0, 50.0)]), 60.0)
    both = np.concatenate((one_name(30, 50, 20, 10), one_name(70, 50, 20, 10)))
    assert (room.place(both, must=np.array([False, True])) >= 0).tolist() == [False, True]


def test_breaks_and_what_is_out_of_view_take_no_room() -> None:
    room = Room(100, 100)
    room.cross(np.array([[10.0, 10.0], [np.nan, np.nan], [1e7, 90.0], [1e7, -1e7]]))
    room.cross(np.empty((0, 2)))
    room.soften(np.empty((0, 2)), 6.0)
    room.soften(np.array([(1e7, 5.0), (-400.0, 20.0)]), 6.0)
    everywhere = [(x, y) for x in range(5, 100, 10) for y in range(5, 100, 10)]
    assert len(placed(room, squares_at(everywhere), must=False)) == 100


def test_a_line_from_far_out_of_view_is_met_where_it_crosses() -> None:
    room = Room(300, 300)
    room.cross(np.array([[-1e6, -1e6], [1e6, 1e6]]))
    along_it, off_it = [(x, x) for x in range(3, 298)], [(x, x + 12) for x in range(3, 285, 12)]
    assert placed(room, squares_at(along_it), must=False) == []
    assert len(placed(room, squares_at(off_it), must=False)) == len(off_it)


def test_marks_find_room_side_by_side() -> None:
    room = Room(300, 300)
    rects = placed(room, candidates_around(np.full((6, 2), 150.0), 20, 16), must=True)
    assert len(rects) == 6
    for i, one in enumerate(rects):
        assert all(apart(one, other) for other in rects[i + 1 :])


def test_no_more_are_placed_than_asked_for() -> None:
    room = Room(1000, 1000)
    spots = np.array([(100.0 * i, 100.0 * j) for i in range(1, 9) for j in range(1, 9)])
    chosen = room.place(candidates_beside(spots, np.full((64, 2), (30.0, 10.0))), must=False, most=5)
    assert (chosen >= 0).sum() == 5


@pytest.mark.parametrize("way", [(1.0, 0.0), (0.0, 1.0), (0.6, -0.8)])
def test_figures_stand_beside_their_leg(way: tuple[float, float]) -> None:
    room = Room(300, 300)
    reach = 100 * np.array(way)
    room.cross(np.array([150 - reach, 150 + reach]))
    candidates = candidates_along(np.array([(150.0, 150.0)]), np.array([way]), np.array([(80.0, 12.0)]))
    assert len(placed(room, candidates, must=False)) == 1


@pytest.mark.parametrize("picked", [None, Selection(findings=(59,))])
def test_marks_without_room_are_counted_and_never_the_heavy_or_picked_ones(
    qapp: QApplication, picked: Selection | None
) -> None:
    marks = tuple(Mark(i, Weight.WRONG if i == 40 else Weight.NOTE, 0.0, 0.0) for i in range(60))
    layout = lay_out(Shown(replace(empty_picture(), marks=marks), picked), Frame(200.0, 150.0, 1.0, 400.0, 300.0))
    (sentence,) = layout.texts
    assert sentence.text == f"Left out for lack of room: {60 - len(layout.marks)} marks. Zoom in to see more."
    assert 10 < len(layout.marks) < 60
    assert 40 in layout.marks
    assert (59 in layout.marks) is (picked is not None)
    rects = [np.array(rect) for rect in (sentence.rect, *layout.marks.values())]
    assert all(apart(one, other) for i, one in enumerate(rects) for other in rects[i + 1 :])


def test_symbols_that_would_cover_another_come_closer_in(qapp: QApplication) -> None:
    points = tuple(
        DrawnPoint(i, 2.0 * i, 0.0, symbol=Symbol.TRIANGLE, name=f"P{i}", minor=i % 2 == 1) for i in range(20)
    )
    shown = Shown(replace(empty_picture(), points=points), Selection(points=(7,)))
    drawn = {scale: lay_out(shown, Frame(20.0, 150.0, scale, 900.0, 300.0)) for scale in (1.0, 3.0, 20.0)}
    for scale, layout in drawn.items():
        gaps = [abs(a - b) * 2.0 * scale for a, b in combinations(layout.points, 2)]
        assert min(gaps) >= 2 * SYMBOL * text_scale()
        left_out = set(range(20)) - set(layout.points)
        assert all(min(abs(i - j) for j in layout.points) * 2.0 * scale < 2 * SYMBOL * text_scale() for i in left_out)
    assert {0, 7, 19} <= set(drawn[1.0].points)
    assert len(drawn[1.0].points) < len(drawn[3.0].points) < len(drawn[20.0].points) == 20
    assert {text.text for text in drawn[1.0].texts} <= {points[i].name for i in drawn[1.0].points}
