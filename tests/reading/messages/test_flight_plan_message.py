"""Flight-plan messages: each item with what becomes of it, what stands around them, several in one text."""

import datetime as dt

import pytest
from read_one import read_all, read_one, stretches, unread

from routecheck.model import ElapsedTime, PlanTotals, Span, Use, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.headline import headline
from routecheck.settings import Settings

OFF_BLOCK = dt.datetime(2026, 12, 3, 14, 0, tzinfo=dt.UTC)
PLAN = """(FPL-XVA12-IS
-B738/M-SDE2FGHIRWXY/LB1
-XVAL1400
-N0430F350 LENDU DCT PIKAR
UM12 TOVIK
-XVOR0110 XVMA XVFR
-PBN/A1B1 DOF/261203 REG/XVABC EET/XVFR0020 20E0061 PIKAR0035 DLE/PIKAR0010 RMK/TEST AB/C
-E/0310 P/120 R/V)"""


def test_every_item_is_used_or_named():
    plan = read_one(PLAN)
    assert (plan.name, plan.rules, plan.equipment, plan.pbn) == ("XVA12", "I", "SDE2FGHIRWXY", "A1B1")
    assert (plan.departure, plan.destination, plan.alternate) == ("XVAL", "XVOR", ("XVMA", "XVFR"))
    assert (plan.off_block, plan.stated_totals) == (OFF_BLOCK, PlanTotals(time_min=70, endurance_min=190))
    assert plan.elapsed == (ElapsedTime("XVFR", 20), ElapsedTime("PIKAR", 35))
    assert plan.delays == (ElapsedTime("PIKAR", 10),)
    assert plan.route == "N0430F350 LENDU DCT PIKAR\nUM12 TOVIK"
    assert unread(plan) == ["20E0061"]  # 61 minutes
    (entry,) = plan.not_used
    assert entry.sentence.startswith("Not used: an entry of EET/ “20E0061”; it is a name and four digits")
    assert stretches(plan, Use.NOT_USED) == [
        "S", "B738/M", "/LB1", "REG/XVABC", "RMK/TEST AB/C", "P/120", "R/V"
    ]  # fmt: skip
    for name in ("Item 8 type of flight", "Item 9", "Item 18 REG/", "Item 18 RMK/", "Item 19 P/"):
        assert name in plan.remarks[0]


def test_the_words_of_the_route_are_found_in_the_pasted_text():
    plan = read_one("ZCZC 1\n\n" + PLAN)
    at = plan.route.index("UM12")
    span = plan.pasted.find_span(Span(at, at + 4))
    assert plan.pasted.text[span.start : span.end] == "UM12"
    assert plan.pasted.find_span(Span(at, at + 400)) is None


def test_small_letters_a_header_and_the_end_of_the_transmission():
    text = f"ZCZC ABC0123 101200\nFF XVALZQZX XVORZQZX\n101200 XVALXVAX\n{PLAN.lower()}\nNNNN\n"
    plan = read_one(text)
    assert (plan.departure, plan.destination, plan.date) == ("XVAL", "XVOR", dt.date(2026, 12, 3))
    assert plan.route == "n0430f350 lendu dct pikar\num12 tovik"
    assert stretches(plan, Use.AROUND) == []
    assert any(remark.startswith("For the transmission alone: address lines") for remark in plan.remarks)


def test_a_page_around_it_is_counted():
    plan = read_one(f"Dear crew,\nplease check (today):\n\n{PLAN}\n\nRegards\n(Ann)")
    assert stretches(plan, Use.AROUND) == ["Dear crew,", "please check (today):", "Regards", "(Ann)"]
    assert plan.not_used[-1].sentence == "Not used: 4 lines of text around the plan; it begins “Dear crew,”."


@pytest.mark.parametrize("cut", ["closing", "both"])
def test_brackets_lost_in_copying(cut):
    text = PLAN[1 if cut == "both" else 0 : -1]
    plan = read_one(f"Plan:\n\n{text}\n\nRegards - Ann")
    assert (plan.name, plan.stated_totals.endurance_min) == ("XVA12", 190)
    assert stretches(plan, Use.AROUND) == ["Plan:", "Regards - Ann"]


def test_several_messages_in_one_text():
    other = PLAN.replace("XVA12", "XVB7").replace("LENDU", "SARNO")
    found = read_all(f"{PLAN}\nsecond:\n{other}\n(CNL-XVC9-XVAL1400-XVOR-0)")
    assert [one.name for one in found] == ["XVA12", "XVB7", "message.txt, message 3"]
    assert "SARNO" in found[1].route
    assert stretches(found[1], Use.AROUND) == ["second:"]
    assert found[2].unread == "a cancellation (CNL) of XVC9 carries no route"


@pytest.mark.parametrize(
    ("text", "says"),
    [  # ICAO Doc 4444, Appendix 3, sample messages
        ("(CHGA/F016A/F014-GABWE/A2173-EHAM0850-EDDF-DOF/080122-8/I-16/EDDN)", "a change (CHG) of GABWE"),
        ("(CNL-DLH522-EDBB0900-LFPO-0)", "a cancellation (CNL) of DLH522"),
        ("(DLA-KLM671-LIRF0900-LYDU-0)", "a delay (DLA) of KLM671"),
        ("(DEP-CSA4311-EGPD1923-ENZV-0)", "a departure message (DEP) of CSA4311"),
    ],
)
def test_messages_without_a_route(text, says):
    message = read_one(text)
    assert (message.unread, message.is_routeless) == (f"{says} carries no route", True)
    answer = assess(message, demo_database(), Settings(), dt.date(2026, 12, 3))
    assert [(one.check, one.weight) for one in answer.findings] == [("unread-row", Weight.NOTE)]
    assert headline(answer).verdict_line == f"Checked nothing: {says} carries no route."


def test_other_messages_are_said_not_to_be_read():
    assert read_one("(RQS-XVA12-XVAL-XVOR-0)").unread.endswith("is recognised and not read in this version")


def test_a_change_of_the_route_is_read():
    change = read_one("(CHG-XVA12-XVAL1400-XVOR-DOF/261203-15/N0430F350 LENDU DCT PIKAR-8/I)")
    assert (change.route, change.departure, change.destination) == ("N0430F350 LENDU DCT PIKAR", "XVAL", "XVOR")
    assert (change.rules, change.date) == ("I", dt.date(2026, 12, 3))


def test_a_field_of_no_form_is_named():
    plan = read_one("(FPL-XVA12-IS-?!-B738/M-SDW/S-XVAL1400-N0430F350 LENDU DCT PIKAR-XVOR0110-DOF/261203)")
    assert unread(plan) == ["?!"]
    assert plan.route == "N0430F350 LENDU DCT PIKAR"


def test_a_missing_item_is_named_and_the_others_stay_in_place():
    plan = read_one("(FPL-XVA12-IS-XVAL1400-N0430F350 LENDU DCT PIKAR-XVOR0110-0)")
    assert plan.remarks[0] == "The message has no Item 9 and 10."
    assert (plan.departure, plan.route, plan.destination) == ("XVAL", "N0430F350 LENDU DCT PIKAR", "XVOR")


def test_a_hyphen_within_the_route_or_a_remark_costs_neither():
    plan = read_one("(FPL-XVA12-IS-B738/M-SDW/S-XVAL1400-N0430F350 LENDU-PIKAR DCT TOVIK-XVOR0110-RMK/TCAS-EQUIPPED)")
    assert plan.route == "N0430F350 LENDU-PIKAR DCT TOVIK"
    assert stretches(plan, Use.NOT_USED)[-1] == "RMK/TCAS-EQUIPPED"


def test_a_route_without_its_speed_is_still_the_route():
    plan = read_one("(FPL-XVA12-IS-B738/M-SDW/S-XVAL1400-LENDU DCT PIKAR-XVOR0110-0)")
    assert plan.route == "LENDU DCT PIKAR"


def test_no_route_at_all():
    plan = read_one("(FPL-XVA12-IS-B738/M-SDW/S-XVAL1400-XVOR0110-0)")
    assert plan.unread == "the message has no Item 15, which is its route"
    assert (plan.departure, plan.destination) == ("XVAL", "XVOR")


def test_a_route_in_item_18():
    head = "(FPL-XVA12-IS-B738/M-SDW/S-XVAL1400"
    both = read_one(f"{head}-N0430F350 LENDU DCT PIKAR-XVOR0110-RTE/SARNO DCT PIKAR)")
    assert both.route == "N0430F350 LENDU DCT PIKAR"
    assert "Not checked, as Item 15 is the route: Item 18 RTE/." in both.remarks
    alone = read_one(f"{head}-XVOR0110-RTE/SARNO DCT PIKAR)")
    assert (alone.route, alone.unread) == ("SARNO DCT PIKAR", "")


def test_aerodromes_without_an_indicator():
    plan = read_one(
        "(FPL-XVA12-VG-C172/L-V/C-ZZZZ1400-N0115A035 LENDU DCT PIKAR-ZZZZ0110 ZZZZ-"
        "DEP/HARBOUR 3000S00200E DEST/LENDU090010 ALTN/XVFIELD)"
    )
    assert (plan.departure, plan.destination) == ("HARBOUR 3000S00200E", "LENDU090010")
    assert plan.alternate == ("XVFIELD",)


def test_a_plan_filed_in_the_air():
    plan = read_one("(FPL-XVA12-IS-B738/M-SDW/S-AFIL1400-N0430F350 LENDU DCT PIKAR-XVOR0110-0)")
    assert plan.departure == ""
    assert plan.remarks[0].startswith("The plan was filed in the air (AFIL)")


@pytest.mark.parametrize(
    ("item", "left"),
    [("DOF/261345", "DOF/261345"), ("FOO/BAR", "FOO/BAR"), ("WITHOUT ANY", "WITHOUT ANY"), ("EET/XVFR20", "XVFR20")],
)
def test_what_item_18_cannot_mean(item, left):
    plan = read_one(f"(FPL-XVA12-IS-B738/M-SDW/S-XVAL1400-N0430F350 LENDU DCT PIKAR-XVOR0110-PBN/A1 {item})")
    text = " ".join(unread(plan)) or " ".join(stretches(plan, Use.USED))
    assert left in text


@pytest.mark.parametrize(
    ("item_16", "item_19", "left"),
    [("XVOR0190", "E/0310", ["0190"]), ("XVOR110", "E/0310", ["110"]), ("XVOR0110", "E/310", ["E/310"])],
)
def test_times_that_are_none(item_16, item_19, left):
    plan = read_one(f"(FPL-XVA12-IS-B738/M-SDW/S-XVAL1400-N0430F350 LENDU-{item_16}-DOF/261203-{item_19})")
    assert unread(plan) == left


@pytest.mark.parametrize(
    ("other", "says"),
    [
        ("(DLA-XVA12-XVAL1530-XVOR-0)", "a delay (DLA) of XVA12; the plan is checked as it stands, without “XVAL1530-"),
        ("(CNL-XVA12-XVAL1400-XVOR-0)", "a cancellation (CNL) of XVA12; the plan is checked as it stands, without"),
        ("(CHG-XVA12-XVAL1400-XVOR-0-13/XVAL1500)", "a change (CHG) of XVA12; the plan is checked as it stands"),
    ],
)  # fmt: skip
def test_what_other_messages_say_of_the_flight_is_named_with_its_plan(other, says):
    for text in (f"{PLAN}\n{other}", f"{other}\n{PLAN}"):
        plan = next(one for one in read_all(text) if one.route)
        assert says in " ".join(one.sentence for one in plan.not_used)
    stranger = read_all(f"{PLAN}\n{other.replace('XVA12', 'XVB7')}")
    assert stranger[0].not_used == read_one(PLAN).not_used


def test_a_day_that_a_change_gives_anew_is_taken():
    change = read_one("(CHG-XVA12-XVAL1400-XVOR-DOF/261203-15/N0430F350 LENDU DCT PIKAR-18/DOF/261204-13/XVAL1600)")
    assert change.off_block == dt.datetime(2026, 12, 4, 16, 0, tzinfo=dt.UTC)
    assert change.not_used == ()
    assert "Given anew in the change: Item 13 and Item 18." in change.remarks


@pytest.mark.parametrize(("time", "says"), [("", "Item 13 has no time of departure."), ("143", "Item 13 time “143”")])
def test_a_time_that_is_missing_or_none_costs_no_other_item(time, says):
    found = read_one(f"(FPL-XVA12-IS-B738/M-SDFG/S-XVAL{time}-N0430F350 LENDU DCT PIKAR-XVOR0145-0)")
    assert (found.departure, found.destination, found.route) == ("XVAL", "XVOR", "N0430F350 LENDU DCT PIKAR")
    assert says in " ".join([*found.remarks, *(one.sentence for one in found.not_used)])
