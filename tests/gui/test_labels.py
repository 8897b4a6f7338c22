"""Words on the Picture never cover one another and keep off lines where they can."""

import numpy as np

from routecheck.gui.labels import Room, Wanted, around, spots


def apart(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_placed_words_do_not_overlap() -> None:
    room = Room(400, 300)
    rng = np.random.default_rng(7)
    placed = []
    for i, (x, y) in enumerate(rng.uniform((0, 0), (400, 300), (120, 2))):
        rect = room.place(spots(Wanted(i, "PIKAR", x, y, 40, 12)), must=True)
        placed += [rect] if rect else []
    assert 20 < len(placed) < 120
    for i, one in enumerate(placed):
        assert all(apart(one, other) for other in placed[i + 1 :])
        assert one[0] >= 0
        assert one[1] >= 0
        assert one[2] <= 400
        assert one[3] <= 300


def test_a_word_keeps_off_a_line_where_it_can() -> None:
    room = Room(400, 300)
    room.cross(np.array([[200.0, 150.0], [400.0, 100.0]]))
    rect = room.place(spots(Wanted(0, "PIKAR", 200, 150, 40, 12)), must=True)
    assert rect is not None
    assert rect[1] >= 150 or rect[2] <= 200


def test_a_word_that_must_stand_crosses_a_line_before_it_goes() -> None:
    room = Room(100, 100)
    for y in range(0, 100, 3):
        room.cross(np.array([[0.0, y], [100.0, y]]))
    wanted = Wanted(0, "PIKAR", 50, 50, 20, 10)
    assert room.place(spots(wanted), must=False) is None
    assert room.place(spots(wanted), must=True) is not None


def test_breaks_and_what_is_out_of_view_take_no_room() -> None:
    room = Room(100, 100)
    room.cross(np.array([[10.0, 10.0], [np.nan, np.nan], [1e7, 90.0], [1e7, -1e7]]))
    room.cross(np.empty((0, 2)))
    assert not room._crossed.any()


def test_marks_find_room_side_by_side() -> None:
    room = Room(300, 300)
    placed = [room.place(around(150, 150, 20, 16), must=True) for _ in range(6)]
    assert all(placed)
    for i, one in enumerate(placed):
        assert one is not None
        assert all(apart(one, other) for other in placed[i + 1 :] if other)


def test_figures_stand_beside_their_leg() -> None:
    for along in ((1.0, 0.0), (0.0, 1.0), (0.6, -0.8)):
        room = Room(300, 300)
        ends = np.array([[150 - 100 * along[0], 150 - 100 * along[1]], [150 + 100 * along[0], 150 + 100 * along[1]]])
        room.cross(ends)
        assert room.place(spots(Wanted(0, "099°M  113.1 NM", 150, 150, 80, 12, along=along)), must=False)
