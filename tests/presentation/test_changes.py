"""The line that names the original stands until it is ticked, and says where else to correct it."""

from routecheck.model import AltitudeWindow, Change, FieldChange, Proposal, RouteInput, Span
from routecheck.presentation.changes import make_changes, pending_changes_line, tick_change

HERE = RouteInput("LENDU DCT PIKOR UM12 TOVIK", "XVAL", "XVOR", departure_runway="09")


def proposal(span=None, new="", beside=()):
    return Proposal(span, new, "", why="", clears=(), distance_nm=0.0, beside=beside)


def test_the_original_stays_on_record_until_ticked():
    (change,) = make_changes(HERE, proposal(Span(10, 15), "PIKAR"))
    assert change == Change("PIKOR", "PIKAR", 10)
    line = pending_changes_line((change,))
    assert line.startswith("1 word differs from what you entered: PIKOR → PIKAR. ")
    assert "aircraft unit, the plan or with ATC" in line
    assert pending_changes_line(tick_change((change,), 0)) == ""
    assert tick_change((change,), 0)[0].old == "PIKOR"


def test_several_changes_are_counted_and_the_aerodromes_named():
    exchanged = FieldChange("departure", "XVAL", "XVOR"), FieldChange("destination", "XVOR", "XVAL")
    ends = make_changes(HERE, proposal(beside=exchanged))
    both = (Change("A\n  B", "B A"), *ends)
    assert "3 words and values differ" in pending_changes_line(both)
    assert "A B → B A, departure XVAL → XVOR and destination XVOR → XVAL" in pending_changes_line(both)
    assert "2 values differ" in pending_changes_line(tick_change(both, 0))


def test_what_changes_beside_the_text_is_named():
    (runway,) = make_changes(HERE, proposal(beside=(FieldChange("departure_runway", "09", "27"),)))
    assert runway == Change("09", "27", field="departure_runway")
    assert pending_changes_line((runway,)).startswith(
        "1 value differs from what you entered: departure runway 09 → 27. "
    )
    window = FieldChange("windows", AltitudeWindow("KEBUL", 1_100.0), AltitudeWindow("KEBUL", 11_000.0))
    changes = make_changes(HERE, proposal(Span(10, 15), "PIKAR", (window,)))
    assert pending_changes_line(changes).startswith(
        "2 words and values differ from what you entered: PIKOR → PIKAR and "
        "altitude window KEBUL at or above 1,100 ft → KEBUL at or above 11,000 ft. "
    )


def test_one_aerodrome_says_which_end_it_is():
    (end,) = make_changes(HERE, proposal(beside=(FieldChange("destination", "XVOR", "XVMA"),)))
    assert pending_changes_line((end,)).startswith("1 value differs from what you entered: destination XVOR → XVMA. ")
