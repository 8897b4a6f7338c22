"""The table of all that an input is made of: who accounts for it, and which test shows that none of it is dropped.

A new format of inputs or form of navigation data needs its row here; a test of the house asks for it. Input fields have
their own table, of which one row here covers all.
"""

from __future__ import annotations

from routecheck.frozen_dataclass import dataclass
from routecheck.model import InputKind
from routecheck.reading.input_fields import INPUT_FIELDS


@dataclass(frozen=True, slots=True)
class AccountedKind:
    """A kind of thing and where it comes from: `names` are those of formats, input fields or forms of data, () = all.

    `module` names what is not used; `test` is the test that drops, hides or misspells one.
    """

    kind: InputKind
    names: tuple[str, ...]
    module: str
    test: str


_MUTATED = "reading/test_mutated_inputs.py::test_no_mutation_passes_in_silence"
_BESIDE = "test_accounting.py::test_what_fits_nothing_is_named"
_FIELDS = tuple(field.name for field in INPUT_FIELDS)
"""The test of this row goes through all of their table."""

ACCOUNTED_KINDS = (
    AccountedKind(
        InputKind.CHARACTER, ("text",), "reading.tokens", "reading/test_any_text.py::test_nothing_typed_is_lost"
    ),
    AccountedKind(InputKind.WORD, ("text",), "reading.route_text", _MUTATED),
    AccountedKind(
        InputKind.ROW, ("rows",), "reading.records",
        "reading/test_rows.py::test_two_stray_quotation_marks_swallow_no_row",
    ),
    AccountedKind(
        InputKind.ROW, (), "known.intake", "known/test_intake.py::test_what_is_no_known_route_is_counted_and_named"
    ),
    AccountedKind(
        InputKind.COLUMN, ("rows",), "reading.rows",
        "reading/test_rows.py::test_a_misspelt_column_is_named_with_what_is_meant",
    ),
    AccountedKind(
        InputKind.ROW, ("flight-table",), "reading.flight_table",
        "reading/test_flight_table.py::test_every_visible_sign_is_accounted_for",
    ),
    AccountedKind(
        InputKind.COLUMN, ("nav-log",), "reading.nav_logs",
        "reading/nav_logs/test_nav_log.py::test_columns_that_nobody_knows_are_named_and_can_be_said",
    ),
    AccountedKind(InputKind.KEY, ("route-file",), "reading.route_file", _MUTATED),
    AccountedKind(
        InputKind.FIELD, _FIELDS, "reading.input_fields",
        "reading/test_input_fields.py::test_a_key_that_is_left_out_or_misspelt_is_seen",
    ),
    AccountedKind(InputKind.CLAIM, (), "accounting", _BESIDE),
    AccountedKind(InputKind.WINDOW, (), "accounting", _BESIDE),
    AccountedKind(InputKind.WIND, (), "accounting", _BESIDE),
    AccountedKind(InputKind.ALTERNATE, (), "accounting", _BESIDE),
    AccountedKind(InputKind.READ_ROW, (), "accounting", _BESIDE),
    AccountedKind(InputKind.ACCEPTANCE, (), "accounting", _BESIDE),
    AccountedKind(InputKind.CHANGE, (), "accounting", _BESIDE),
    AccountedKind(InputKind.ITEM, ("message",), "reading.messages.ledger", _MUTATED),
    AccountedKind(
        InputKind.ITEM, ("fixm",), "reading.fixm.flight",
        "reading/fixm/test_unknown_elements.py::test_what_is_unknown_is_named_wherever_it_stands",
    ),
    AccountedKind(
        InputKind.TEXT, ("clearance",), "reading.clearances.clearance",
        "reading/clearances/test_clearances.py::test_every_visible_sign_is_accounted_for",
    ),
    AccountedKind(
        InputKind.TEXT, ("page",), "reading.page", "reading/test_page.py::test_every_visible_sign_is_accounted_for"
    ),
    AccountedKind(
        InputKind.TEXT, (), "pipeline", "test_accounting.py::test_what_fits_nothing_in_the_other_version_is_named"
    ),
    AccountedKind(InputKind.FILE, (), "reading.inputs", "reading/test_inputs.py::test_nothing_in_it"),
    AccountedKind(
        InputKind.RECORD, ("arinc424",), "navdata.arinc424.reader",
        "navdata/test_announced.py::test_a_dropped_record_is_missing",
    ),
    AccountedKind(
        InputKind.RECORD, ("faa points",), "navdata.faa_points.reader",
        "navdata/test_faa_points.py::test_what_cannot_be_used_is_listed",
    ),
)  # fmt: skip
