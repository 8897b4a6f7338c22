"""The line that names the original stands until it is ticked, and says where else to correct it."""

from routecheck.model import Change, Proposal, Span
from routecheck.present.changes import change_of, standing_line, ticked


def proposal(span, new):
    return Proposal(span, new, "", "", (), 0.0)


def test_the_original_stays_on_record_until_ticked():
    change = change_of("LENDU DCT PIKOR UM12 TOVIK", proposal(Span(10, 15), "PIKAR"), "XVAL", "XVOR")
    assert change == Change("PIKOR", "PIKAR", 10)
    line = standing_line((change,))
    assert line.startswith("1 word differs from what you entered: PIKOR → PIKAR. ")
    assert "aircraft unit, the plan or with ATC" in line
    assert standing_line(ticked((change,), 0)) == ""
    assert ticked((change,), 0)[0].old == "PIKOR"


def test_several_changes_are_counted_and_the_aerodromes_named():
    ends = change_of("LENDU", proposal(None, "XVOR–XVAL"), "XVAL", "XVOR")
    both = (Change("A\n  B", "B A"), ends)
    assert "2 words differ" in standing_line(both)
    assert "A B → B A and XVAL–XVOR → XVOR–XVAL" in standing_line(both)
    assert "1 word differs" in standing_line(ticked(both, 0))
