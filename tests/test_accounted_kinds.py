"""Whoever reads an input accounts for all of it: the table names a test for each, and the tests are there."""

import ast
import importlib
from pathlib import Path

import pytest

from routecheck.model import InputKind
from routecheck.navdata.readers import READERS
from routecheck.reading.accounted_kinds import ACCOUNTED_KINDS
from routecheck.reading.input_fields import INPUT_FIELDS
from routecheck.reading.inputs import INPUT_FORMATS

TESTS = Path(__file__).resolve().parent
NAMED = {name for row in ACCOUNTED_KINDS for name in row.names}


def test_every_kind_has_a_row():
    assert {row.kind for row in ACCOUNTED_KINDS} == set(InputKind)


@pytest.mark.parametrize("registry", [INPUT_FORMATS, INPUT_FIELDS, READERS], ids=["formats", "fields", "data readers"])
def test_every_reader_has_a_row(registry):
    assert {one.name for one in registry} - NAMED == set()


def test_no_row_is_about_something_that_is_gone():
    assert NAMED - {one.name for registry in (INPUT_FORMATS, INPUT_FIELDS, READERS) for one in registry} == set()


@pytest.mark.parametrize("row", ACCOUNTED_KINDS, ids=lambda row: f"{row.kind} {' '.join(row.names[:2])}")
def test_who_accounts_for_it_and_the_test_are_there(row):
    assert importlib.import_module(f"routecheck.{row.module}")
    file, _, name = row.test.partition("::")
    there = ast.parse((TESTS / file).read_text("utf-8")).body
    assert name in [one.name for one in there if isinstance(one, ast.FunctionDef)]
