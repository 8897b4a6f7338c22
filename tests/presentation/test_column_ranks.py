"""Which columns of the Leg table give way: the least needed, no more than must, the ends and the distance never."""

from routecheck.presentation import leg_claim_columns, leg_columns
from routecheck.presentation.column_ranks import columns_to_hide, describe_hidden
from routecheck.presentation.leg_entry import Column

ALWAYS = {"from", "to", "via", "course_magnetic_deg", "distance_nm"}
GROUPS = [
    group
    for module in (leg_columns, leg_claim_columns)
    for group in vars(module).values()
    if isinstance(group, list) and group and isinstance(group[0], tuple) and isinstance(group[0][0], Column)
]
COLUMNS = [column for column in dict.fromkeys(column for group in GROUPS for column, _ in group) if column.head]


def shown(room: int, widths: list[int] | None = None) -> set[str]:
    widths = widths or [10] * len(COLUMNS)
    hidden = columns_to_hide(COLUMNS, widths, room)
    assert sum(wide for i, wide in enumerate(widths) if i not in hidden) <= room or len(hidden) == len(COLUMNS) - 5
    return {column.key for i, column in enumerate(COLUMNS) if i not in hidden}


def test_where_there_is_room_all_are_shown() -> None:
    assert shown(10 * len(COLUMNS)) == {column.key for column in COLUMNS}


def test_the_less_room_the_fewer_and_the_ends_and_the_distance_stay() -> None:
    before = shown(10_000)
    for room in range(10 * len(COLUMNS), -10, -10):
        now = shown(room)
        assert now <= before
        assert len(before - now) <= 1
        before = now
    assert before == ALWAYS
    assert "variation_deg" not in shown(10 * len(COLUMNS) - 1)
    assert {"window_low_ft", "claimed_less_computed_nm"} <= shown(90)


def test_a_wide_one_that_goes_lets_others_stay() -> None:
    columns = [Column("from", "from"), Column("variation", "variation_deg"), Column("wind", "wind_used")]
    assert columns_to_hide(columns, [10, 5, 40], 20) == {2}


def test_what_is_hidden_is_counted_and_named() -> None:
    columns = [Column("from", "from"), Column("variation", "variation_deg"), Column("wind", "wind_used")]
    assert describe_hidden(columns, frozenset({1, 2})) == (
        "2 of 3 columns hidden: show all",
        "Hidden: variation and wind",
    )
    assert describe_hidden(columns, frozenset()) == ("", "")
