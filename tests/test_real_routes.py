"""5,025 real published routes on the whole-country data of their time: read, resolved, and mostly left alone."""

import math
import re
from collections import Counter

from routecheck.model import Outcome, Weight


def told(answers):
    return [
        f"{a.route.route_input.departure} {a.route.route_input.route} {a.route.route_input.destination}"
        for a in answers
    ][:5]


def test_every_row_has_its_answer_in_order(assessed):
    assert len(assessed) == 5025
    assert assessed[0].route.route_input.route == "FJC ARD CYN"


def test_every_check_could_run_and_nothing_of_ours_was_at_fault(assessed):
    assert told(a for a in assessed if a.could_not_run) == []
    assert told(a for a in assessed if a.route.own_mistakes) == []
    outcomes = Counter(outcome for a in assessed for _, outcome in a.outcomes)
    assert outcomes[Outcome.COULD_NOT_RUN] == 0
    assert {len(a.outcomes) for a in assessed} == {len(assessed[0].outcomes)}


def test_nearly_every_word_is_read_and_resolved(assessed, country):
    """99.5 % can be (README of the data); a SID or STAR counts by its name, whatever its number."""
    total, lost = 0, Counter()
    for answer in assessed:
        for word, role in zip(answer.route.parsed.words, answer.route.resolved.roles, strict=True):
            total += 1
            known = role not in ("unread", "unknown name", "unknown airway", "impossible position")
            if role == "unknown procedure":
                known = name_of(word.text) in procedure_names(country)
            lost[word.text] += not known
    share = 1 - lost.total() / total
    assert total > 25_000
    assert share >= 0.99, lost.most_common(20)


def name_of(procedure):
    return re.sub(r"\d[A-Z]?$", "", procedure)


_NAMES = set()


def procedure_names(database):
    if not _NAMES:
        airports = {place.ident for place in database.places_within(39.0, -98.0, 5000.0) if place.kind == "airport"}
        kinds = ("SID", "STAR")
        _NAMES.update(name_of(n) for ident in airports for kind in kinds for n in database.procedure_names(ident, kind))
    return _NAMES


def test_few_routes_are_called_wrong(assessed):
    """Not all of them are in order: some hold genuine mistakes, or names that the data of that cycle has not."""
    wrong = [a for a in assessed if a.heaviest() is Weight.WRONG]
    assert len(wrong) <= 0.05 * len(assessed), Counter(f.check for a in wrong for f in a.findings).most_common()


def test_geometry_alone_is_never_wrong(assessed):
    shape = {"dogleg", "sharp-turn", "doubling-back", "zigzag", "crosses-itself", "long-way-round", "leg-too-long"}
    heavy = [a for a in assessed if any(f.check in shape and f.weight is Weight.WRONG for f in a.findings)]
    assert told(heavy) == []


def test_genuine_mistakes_among_them_are_found(assessed):
    """Airways that the data has not, and placeholders that are no words: seen by reading the file (cf. its README)."""
    by_word = {}
    for answer in assessed:
        for finding in answer.findings:
            for span in finding.spans:
                by_word.setdefault(answer.route.route_input.route[span.start : span.end], set()).add(finding.check)
    assert "unknown-airway" in by_word["V475"]
    assert "unread-word" in by_word["LINNG-STAR"]


def test_what_is_not_known_is_never_a_number(assessed):
    for answer in assessed:
        for leg in answer.route.legs:
            figures = (leg.distance_nm, leg.course_true_deg, leg.end_course_true_deg, leg.course_magnetic_deg)
            assert all(figure is None or math.isfinite(figure) for figure in figures)
            assert (leg.distance_nm is None) == bool(leg.gap)


def test_a_route_is_wholly_checked_or_says_what_was_not(assessed):
    for answer in assessed:
        totals = answer.route.totals
        assert (totals.gaps > 0) == bool(totals.not_checked)
        assert (totals.checked_share == 1.0) == (not totals.not_checked)
        assert all(stretch.because for stretch in totals.not_checked)


def test_the_direct_line_is_never_longer_than_the_route(assessed):
    whole = [a.route.totals for a in assessed if not a.route.totals.gaps]
    assert len(whole) > 2000
    assert all(t.distance_nm >= t.direct_nm - 1e-6 for t in whole)


def test_magnetic_courses_come_from_records_for_the_model_does_not_reach_back(assessed):
    sources = Counter(leg.variation_from for a in assessed for leg in a.route.legs if leg.distance_nm)
    assert "WMM2025" not in sources
    assert sources[None] < 0.02 * sources.total()
