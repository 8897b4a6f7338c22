"""Nothing of an input passes in silence: what is removed, hidden, doubled, misspelt or moved is read so, or named.

`pytest -m bench tests/bench/test_bench_mutated.py -s` tries a hundred thousand mutations of each reader.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mutated_plans import FIXM, NAV_LOGS, PLANS
from mutated_readers import FIELDS, MESSAGES, READERS, ROUTE_FILE, ROUTE_TEXT, ROWS
from mutated_results import RESULTS

SEEDS = st.integers(0, 2**32)


@pytest.mark.parametrize("reader", [*READERS, *PLANS, RESULTS], ids=lambda reader: reader.name)
@given(seed=SEEDS)
def test_no_mutation_passes_in_silence(reader, seed):
    assert reader.find_silent(seed) is None


SEEN = [
    (ROUTE_TEXT, ("VAL090040 SARNO2", "VAL090040 ,,,SARNO2")),
    (ROUTE_TEXT, ("XVAL/09", "XVAL/09,,,")),
    (ROUTE_TEXT, ("DCT PIKAR UM12", "DCT -- UM12")),
    (ROUTE_TEXT, ("TOVIK DCT", "TOVIK () DCT")),
    (ROUTE_TEXT, ("LENDU DCT", "LENDU\u200b DCT")),
    (ROUTE_TEXT, ("N0430F350 LENDU", "-LENDU")),
    (ROWS, ("SARNO, DCT", "SAR\x00NO, DCT")),
    (ROWS, (",level,", ",levle,")),
    (ROWS, (",F350,", ",F35O,")),
    (ROWS, ("XVAL,XVOR,LENDU DCT", 'XVAL,XVOR,"LENDU DCT')),
    (ROWS, ("03DEC26", "03DEC'26")),
    (FIELDS, ("off_block=2026-12-03", "off_block=2026-12-03-03")),
    (FIELDS, ("level=F350", "level=F3500")),
    (ROUTE_FILE, ('level = "F350"', 'levle = "F350"')),
    (ROUTE_FILE, ("[[window]]", "[[windows]]")),
    (ROUTE_FILE, ('role = "cleared"', '# role = "cleared"')),
    (MESSAGES, ("DOF/261203", "DOF/261203 DOF/261204")),
    (MESSAGES, ("DOF/261203", "DOF7/261203")),
    (MESSAGES, ("(FPL-", "(FPL8-")),
    (MESSAGES, ("-B738/M", "-B739/M")),
    (NAV_LOGS, ("LENDU\tDCT", "LENDU\tL1D")),
    (NAV_LOGS, ("TOVIK\tUM12", "TOVIK\tU-M12")),
    (NAV_LOGS, ("TOVIK|", "#TOVIK|")),
    (NAV_LOGS, ("Total;", "Total;;;416.0;0:57\nTotal;")),
    (NAV_LOGS, ("Total;;", "Total;\u200b;")),
    (NAV_LOGS, ("\t102\t", "\t102T\t")),
    (NAV_LOGS, ("\t88.9\t", "\t88.9T\t")),
    (NAV_LOGS, ("Total;", "T/40;370\nTotal;")),
    (FIXM, ('uom="NM">74.00', 'uom="NM">7o.00')),
    (FIXM, ('uom="NM">74.00', 'uom="N">74.00')),
    (FIXM, (">45.1 13.7<", ">45.1 l3.7<")),
    (FIXM, (">I</fx:flightRulesCategory>", ">IX</fx:flightRulesCategory>")),
    (FIXM, ("<fx:cruisingSpeed ", '<fx:cruisingSpeed uom="KT">450</fx:cruisingSpeed><fx:cruisingSpeed ')),
    (FIXM, ("</fx:element>", "</fx:element># DCT SARNO")),
    (FIXM, ("<fb:designator>PIKAR", "<fb:designator>PIK.AR")),
]


@pytest.mark.parametrize(("reader", "change"), SEEN)
def test_what_once_passed_is_seen(reader, change):
    text = next(text for text in reader.texts if change[0] in text)
    changed = text.replace(*change, 1)
    assert reader.read(changed) != reader.read(text)


def test_a_reader_that_drops_something_is_found():
    """The test can fail: a reader that overlooks one word is caught within a few tries."""
    deaf = ROUTE_TEXT.__class__(
        "deaf", ROUTE_TEXT.texts, ROUTE_TEXT.mutators, lambda text: ROUTE_TEXT.read(text.partition("UM12")[0]),
        ROUTE_TEXT.meaning,
    )  # fmt: skip
    assert any(deaf.find_silent(seed) for seed in range(60))
