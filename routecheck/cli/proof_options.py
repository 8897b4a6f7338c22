"""The options of `routecheck proof`: what is checked, what is shown of it, and when the shell is told."""

from __future__ import annotations

import argparse

from routecheck.cli.exit_codes import FAIL_ON
from routecheck.cli.parser import Parser, did_you_mean, parse_day
from routecheck.cli.printing import COLOURS, text_width
from routecheck.model import Weight
from routecheck.reading.input_fields import INPUT_FIELDS, InputField
from routecheck.reading.inputs import INPUT_FORMATS
from routecheck.report.explanation import read_catalogue
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.output_options import USUAL_WIDTH, OutputOptions

FIELD_OPTIONS = tuple(field for field in INPUT_FIELDS if field.option)
_EXAMPLES = """\
  routecheck proof --demo
  routecheck proof plan.route.toml --navdata FAACIFP18.zip
  routecheck proof --route "N0430F350 LENDU DCT PIKAR UM12 TOVIK" --departure XVAL --destination XVOR
  routecheck proof routes.csv --navdata cifp.txt.xz --date 2026-12-03 --format jsonl
  routecheck proof routes.csv --least wrong --without no-length
  cat route.txt | routecheck proof - --departure XVAL --destination XVOR"""
_DESCRIPTION = """\
Check routes without a window. A cross-check aid only.

One route is described in full. Of many, text says once what several share and what holds for the whole run; routes in
which nothing was found are counted. jsonl has an object a route, in input order, as soon as it was checked."""


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck proof", _DESCRIPTION, _EXAMPLES)
    _add_inputs(parser)
    beside = parser.add_argument_group("values beside the route, where the input has none")
    for field in FIELD_OPTIONS:
        _add_field_option(beside, field)
    _add_output(parser)
    parser.add_argument("--jobs", type=_parse_jobs, default=1, metavar="N", help="check in so many processes (1)")
    parser.add_argument("--dask", metavar="ADDRESS", help="check on this Dask cluster; the only option that connects")
    return parser


def output_options(given: argparse.Namespace) -> OutputOptions:
    """What the user asks of the output."""
    return OutputOptions(
        width=text_width(USUAL_WIDTH),
        least=Weight(given.least) if given.least else None,
        only=frozenset().union(*given.only),
        without=frozenset().union(*given.without),
        every_route=given.all,
        worst_first=given.worst_first,
    )


def _add_inputs(parser: Parser) -> None:
    what = "route files, messages, CSV rows, text, or folders of them; - is standard input"
    parser.add_argument("files", nargs="*", metavar="FILE|FOLDER", help=what)
    kinds = [one.name for one in INPUT_FORMATS]
    parser.add_argument("--kind", choices=kinds, help="what the files are, where the content does not tell")
    what = "which column is what: departure=ADEP,route=FPL; of a nav log by number, fix=1,distance=4"
    parser.add_argument("--columns", default="", metavar="OURS=YOURS,…", help=what)
    parser.add_argument("--group", default="", metavar="NAME", help="which route of a FIXM message that holds several")
    parser.add_argument("--demo", action="store_true", help="the demo route, with its one planted entry error")
    parser.add_argument("--route", metavar="TEXT", help="one route as text")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="ARINC 424 navigation data")
    what = "a list of known routes to compare with in this run, in place of those added for good"
    parser.add_argument("--known", action="append", default=[], metavar="FILE", help=what)


def _add_output(parser: Parser) -> None:
    group = parser.add_argument_group(
        "output", "--least, --only and --without hide findings; what they hide is counted, also by the exit code"
    )
    group.add_argument("--format", choices=OUTPUT_FORMATS, default=next(iter(OUTPUT_FORMATS)), help="usually text")
    group.add_argument("--least", choices=list(Weight), help="the lightest findings shown (note; of many: doubtful)")
    for option, help_text in (
        ("--only", "show findings of this check alone"),
        ("--without", "show none of this check"),
    ):
        group.add_argument(
            option, action="append", default=[], type=_parse_checks, metavar="CHECK",
            help=f"{help_text}; several with commas, or the option again",
        )  # fmt: skip
    group.add_argument("--worst-first", action="store_true", help="heaviest first, not in input order")
    group.add_argument("--all", action="store_true", help="of many routes every one by itself, also those in order")
    group.add_argument("-o", "--output", metavar="FILE", help="write to a file, whole or not at all")
    group.add_argument("-q", "--quiet", action="store_true", help="print nothing but complaints; see the exit code")
    group.add_argument("--color", choices=COLOURS, default="auto", help="auto: on a terminal, unless NO_COLOR is set")
    when = "; ".join(f"{name}: {when}" for name, when in FAIL_ON.items())
    group.add_argument(
        "--fail-on", choices=FAIL_ON, action="append", help=f"when to end with exit code 1 (may be repeated). {when}"
    )


def _add_field_option(group: argparse._ArgumentGroup, field: InputField) -> None:
    """Add the option that gives a value beside the route; a text that cannot be read is a complaint."""

    def read(text: str) -> object:
        value, why = field.kind.read_text(text)
        if why:
            raise argparse.ArgumentTypeError(why)
        return value

    metavar = "|".join(field.kind.choices[1:]) or field.example
    if field.part:
        what = "day of flight where the input has none (UTC)"
        group.add_argument(f"--{field.part}", type=parse_day, metavar="2026-12-03", help=what)
    group.add_argument(field.option_name, type=read, metavar=metavar, help=field.option)


def _parse_checks(text: str) -> frozenset[str]:
    """Names of checks, with commas between."""
    known = read_catalogue()
    names = frozenset(name.strip() for name in text.split(","))
    if "" in names:
        raise argparse.ArgumentTypeError(f"“{text}” has a comma too many: no name of a check stands beside it")
    for name in sorted(names - known.keys()):
        hint = did_you_mean(name, known) or "; routecheck explain lists them"
        raise argparse.ArgumentTypeError(f"there is no check called “{name}”{hint}")
    return names


def _parse_jobs(text: str) -> int:
    if not (text.isdecimal() and int(text) > 0):
        raise argparse.ArgumentTypeError(f"“{text}” is no number of processes")
    return int(text)
