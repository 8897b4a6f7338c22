"""Near misses: unread words that say what form is expected, and wrong forms of speed and level.

Published ones name their source: NAT Doc 007 edition 2010 Attachment 4, common errors (read); FAA AIM Appendix 4,
edition 4/20/23, a printed example with five digits (read). The others are our own.
"""

import pytest
from read_words import only, said, words

from routecheck.model import WordKind

UNREAD = [
    ("N60W010", "hemisphere letters go after the digits; write 60N010W"),  # NAT Doc 007
    ("N4620W07805", "hemisphere letters go after the digits; write 4620N07805W"),
    ("N60W10", "hemisphere letters go after the digits; write 60N010W"),
    ("N0450 F310", "no blank stands between speed and level; write N0450F310"),  # NAT Doc 007
    ("N450F310", "a zero in front if need be; write N0450F310"),  # NAT Doc 007
    (
        "IRW12503",
        "bearing and distance are 3 digits each behind the name, as in IRW180040; here are 5 digits",
    ),  # AIM Appendix 4
    ("DUB1804", "here are 4 digits"),
    ("HADDY180", "here are 3 digits"),
    ("DUB1800400", "here are 7 digits"),
    ("5ON040W", "the letter O stands for a zero; write 50N040W"),
    ("46N0I8W", "the letter I stands for a one; write 46N018W"),
    ("5IN04OW", "the letter O stands for a zero and the letter I stands for a one; write 51N040W"),
    ("NO450F310", "the letter O stands for a zero; write N0450F310"),
    ("DUB18OO40", "the letter O stands for a zero; write DUB180040"),
    ("IOW18OO40", "the letter O stands for a zero; write IOW180040"),
    ("M82F330", "the speed has 3 digits, a zero in front if need be; write M082F330"),
    ("K830S1130", "K0830S1130"),
    ("M0.82F310", "a Mach number has no point; write M082F310"),
    ("M.82F310", "a Mach number has no point; write M082F310"),
    ("N0450FL310", "a flight level is F and 3 digits; write N0450F310"),
    ("46N 078W", "no blank stands between latitude and longitude; write 46N078W"),
    ("4620N\n07805W", "no blank stands between latitude and longitude; write 4620N07805W"),
    ("N46 W078", "hemisphere letters go after the digits, without a blank; write 46N078W"),
    ("078W", "only half a position"),
    ("07805W", "only half a position"),
    ("462030N", "only half a position"),
    ("46N078", "E or W is missing"),
    ("46N78W", "2 digits of latitude and 3 of longitude, or 4 and 5 with minutes; write 46N078W"),
    ("4620N7805W", "4620N07805W"),
    ("078W46N", "the latitude stands before the longitude; write 46N078W"),
    ("462030N0780512W", "a position has no seconds"),
    ("46.5N078.2W", "a position has no decimals"),
    ("46.5,-78.2", "a position has no decimals"),
    ("N46.5W078.2", "a position has no decimals"),
    ("46N/078W", "a position is written without signs; write 46N078W"),
    ("46°20'N078°05'W", "a position is written without signs; write 4620N07805W"),
    ("52/20", "a position is written in full, with its hemispheres"),
    ("52N020W52N030W", "a blank is missing between two positions; write 52N020W 52N030W"),
    ("EGLL1400", "Item 13 or 16"),
    ("EET/EISN0026", "EET/ belongs to Item 18"),
    ("DOF/080122", "DOF/ belongs to Item 18"),
    ("DIRECT", "direct is written DCT"),
    ("LINNG-STAR", "a STAR is given by its coded name"),
    ("LINNG-ABC", "a hyphen stands in it"),
    ("1,234", "a comma stands in it"),
    ("ABI,INK", "a comma stands in it"),
    ("1234", "digits alone name nothing"),
    ("\N{AIRPLANE}", "neither letter nor digit"),
    ("SARNO\N{AIRPLANE}", "\N{AIRPLANE} stands in it"),
    ("ABÉ", "É stands in it"),
    ("AB\u00adI", "an invisible character (U+00AD) stands in it"),
    ("ABCDEFGH", "at most 7 letters and digits, this has 8"),
    ("A/B/C/D", "3 slashes stand in it"),
    ("A" * 64, "at most 7 letters and digits, this has 64"),
    ("A" * 3_000, "it has 3,000 characters; one of more than 64 is no route word"),
]


@pytest.mark.parametrize(("text", "why"), UNREAD, ids=[text[:16] for text, _ in UNREAD])
def test_unread_words_say_what_is_expected(text, why):
    word = only(text)
    assert (word.kind, word.text, word.bad) == (WordKind.UNREAD, text, "")
    assert why in word.why


@pytest.mark.parametrize("text", ["N60W010", "5ON040W", "IRW12503", "1,234", "A" * 3000])
def test_it_says_so_as_the_first_word_too(text):
    assert words(text)[0].why == only(text).why


@pytest.mark.parametrize("text", ["N0450 F310", "N450F310", "NO450F310", "N0450FL310", "LN/N450F310", "LN/N0450 F310"])
def test_an_unread_group_still_says_that_it_is_one(text):
    word = words(text)[-1]
    assert (word.kind, word.speed, word.level) == (WordKind.UNREAD, "N0450", "F310")


@pytest.mark.parametrize("text", ["N60W010", "IRW12503", "46N 078W", "DUB18OO40", "1,234"])
def test_no_other_unread_word_is_taken_for_one(text):
    assert (only(text).speed, only(text).level) == ("", "")


ATTACHED = [
    ("LN/N450F310", "a zero in front if need be; write N0450F310"),
    ("LN/N0284 F330", "no blank stands between speed and level; write N0284F330"),
    ("LN/NO284F330", "the letter O stands for a zero; write N0284F330"),
    ("LN/INK", "after a slash stands speed and level"),
    ("J5/46N078W", "after a slash stands speed and level"),
    ("C/48N050W", "a cruise climb is C, its point, speed and two levels"),
    ("C/48N050W/XX", "after a slash stands speed and level"),
]


@pytest.mark.parametrize(("text", "why"), ATTACHED)
def test_unread_behind_a_slash(text, why):
    word = words(text)[-1]
    assert (word.kind, word.attached) == (WordKind.UNREAD, True)
    assert why in word.why


WRONG_CHANGES = [
    ("LN/N0284", "only a speed"),
    ("LN/M082", "only a speed"),
    ("LN/F330", "only a level"),
    ("LN/A045", "only a level"),
    ("LN/S1130", "only a level"),
    ("LN/N0284F33", "no form of speed and level"),
    ("LN/N0000F330", "a speed of zero"),
    ("LN/F330N0450", "the speed stands before the level"),
    ("48N050W/M082F290F350", "only in a cruise climb"),
    ("C/48N050W/M082F290", "a cruise climb gives two levels"),
    ("C/48N050W/M082", "only a speed"),
    ("DCT/N0430F350", "joined to a point"),
]


@pytest.mark.parametrize(("text", "bad"), WRONG_CHANGES)
def test_wrong_forms_of_a_change(text, bad):
    word = words(text)[-1]
    assert (word.kind, word.attached) == (WordKind.CHANGE, True)
    assert bad in word.bad
    assert bad == "joined to a point" or (word.speed, word.level) == ("", "")


@pytest.mark.parametrize("text", ["N0450", "K0830", "M082", "F330", "A045", "S1130", "M0840"])
def test_half_a_group_as_the_first_word(text):
    assert said(f"{text} LN")[0] == f"{text} speed and level!"
    assert said(f"XVAL {text} LN", departure="xval")[1] == f"{text} speed and level!"


def test_the_first_group_may_stand_behind_the_departure():
    assert said("XVAL N0430F350 LN", departure="XVAL")[1] == "N0430F350 speed and level"
    assert said("EGLL/27R N0430F350 LN")[2] == "N0430F350 speed and level"


def test_a_later_group_belongs_to_a_point():
    assert said("LN N0430F350") == ["LN name", "N0430F350 speed and level!"]
    assert said("N0430F350 N0430F360")[1] == "N0430F360 speed and level!"
    assert said("LN /N0430F350")[1] == "/N0430F350 unread"
    assert "left out before the slash" in words("LN /N0430F350")[1].why


def test_two_airways_in_a_row_are_no_torn_group():
    assert said("M201 A100") == ["M201 name", "A100 name"]
    assert said("N46 W114") == ["N46 name", "W114 name"]
    assert said("N5050 A100") == ["N5050 name", "A100 name"]


def test_a_navaid_called_as_an_indicator_of_item_18_keeps_its_change():
    assert said("PER/N0430F350") == ["PER name", "+N0430F350 speed and level"]


def test_no_sentence_is_a_riddle():
    for text, _ in UNREAD:
        why = only(text).why
        assert why
        assert len(why) < 160
        assert not why.endswith(".")
