"""The command `routecheck drill`: makes a drill from routes that are in order, and marks what trainees answered."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.loading import choose_data, load_database, load_users_settings, read_bytes
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser, did_you_mean, parse_day
from routecheck.cli.printing import print_text
from routecheck.cli.window_libraries import require_libraries
from routecheck.drill import drill_files
from routecheck.drill.class_list import NOBODY, ClassList
from routecheck.drill.class_overview import describe_class
from routecheck.drill.difficulty import DIFFICULTIES, USUAL_DIFFICULTY
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.making import DrillOrder, make_drill, training_day
from routecheck.drill.sources import read_demo_source, read_source
from routecheck.drill.unused_answers import describe_unused
from routecheck.faults import UsageError, system_reason
from routecheck.files import write_atomically
from routecheck.formatting import count
from routecheck.model import CAUTION, Assessment, RouteInput
from routecheck.pipeline import assess
from routecheck.reading.decoding import decode
from routecheck.settings import Settings

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Mapping, Sequence

    from routecheck.drill.cases import DrillCase
    from routecheck.drill.marking import Mark, TraineeAnswer
    from routecheck.navdata.database import NavDatabase

_EXAMPLES = """\
  routecheck drill make --seed 7 --out monday
  routecheck drill make --seed 7 --out monday --from routes.csv --mix "exit too far=2,clean=1" --difficulty 3
  routecheck drill mark monday-answers.csv --key monday/answers.jsonl -o marks.csv"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Make a drill, or mark one."""
    given = make_parser().read(arguments)
    start_log()
    {"make": _make, "mark": _mark}[given.action](given)
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck drill", "Train the finding of entry errors.", _EXAMPLES)
    actions = parser.add_subparsers(dest="action", metavar="make | mark", required=True)
    what = "plant entry errors in routes that are in order; the same seed gives the same drill"
    make = actions.add_parser("make", help=what, description=f"{what.capitalize()}.", examples=_EXAMPLES)
    make.add_argument("--seed", type=int, required=True, metavar="N", help="any number")
    make.add_argument("--out", required=True, metavar="FOLDER", help="where its files go")
    what = "routes to begin with, or a drill.toml with cases of your own; without, those of the demo region"
    make.add_argument("--from", dest="sources", action="append", default=[], metavar="FILE", help=what)
    make.add_argument("--count", type=_parse_count, default=20, metavar="N", help="how many routes (20)")
    what = "kinds with their weights, “clean” among them: “exit too far=2,clean=1”; else all alike, a fifth clean"
    make.add_argument("--mix", type=_parse_mix, default={}, metavar="KIND=N,…", help=what)
    what = ". ".join(f"{number}: {one.summary}" for number, one in DIFFICULTIES.items())
    what += f" ({USUAL_DIFFICULTY})"
    make.add_argument("--difficulty", type=int, choices=DIFFICULTIES, default=USUAL_DIFFICULTY, help=what)
    make.add_argument("--paper", action="store_true", help="hand-out.pdf, key.pdf, and what is hidden: on-request.pdf")
    make.add_argument("--navdata", action="append", default=[], metavar="FILE", help="navigation data for this run")
    make.add_argument("--date", type=parse_day, metavar="2026-12-03", help="the day of the flights (UTC)")
    what = "mark answers: CSV with the columns name, word, kind, correction; a column trainee where there are several"
    mark = actions.add_parser("mark", help=what, description=f"{what.capitalize()}.", examples=_EXAMPLES)
    mark.add_argument("given", nargs="+", metavar="GIVEN", help="answers; without a column trainee named by the file")
    mark.add_argument("--key", required=True, metavar="FILE", help="the answers.jsonl of the drill")
    mark.add_argument("-o", "--output", metavar="FILE", help="write the score sheets: .csv or .pdf")
    return parser


def _make(given: argparse.Namespace) -> None:
    order = DrillOrder(seed=given.seed, count=given.count, difficulty=given.difficulty, mix=given.mix)
    is_demo = not given.sources and not given.navdata
    if given.navdata and not given.sources:
        raise UsageError("--navdata needs --from FILE: the routes of the demo region lie in no other data")
    database = load_database(choose_data(given.navdata, demo=is_demo))
    day, settings = training_day(database, given.date), load_users_settings()
    if given.sources:
        source = read_source(((name, read_bytes(name)) for name in given.sources), database, settings, day)
    else:
        source = read_demo_source(database, settings, day)
    if not source.usable and len(source.own) < order.count:
        raise UsageError("no route of them is in order and checked in full: an error can be planted in no other")
    cases = make_drill(order, source, database, day)
    folder = Path(given.out)
    names = [Path(name).name for name in given.sources] or ["demo region"]
    _write_files(folder, {
        drill_files.ROUTES: drill_files.write_routes(cases),
        drill_files.KEY: drill_files.write_key(cases),
        drill_files.SETTINGS: drill_files.write_settings(order, len(cases), names),
    })  # fmt: skip
    if given.paper:
        _write_paper(folder, cases, database, day)
    short = f" {order.count - len(cases)} fewer than asked for: the routes offer no more." * (len(cases) < order.count)
    clean = sum(case.kind == CLEAN for case in cases)
    print_text(
        f"{count(len(cases), 'route')} in {folder}, {clean} of them without an error.{short} Give trainees "
        f"{drill_files.ROUTES} alone: {drill_files.KEY} is the key. {source.left_out} {CAUTION}\n"
    )


def _write_paper(folder: Path, cases: Sequence[DrillCase], database: NavDatabase, day: dt.date) -> None:
    """Write the hand-out, what it hides, and the key."""
    require_libraries()
    from routecheck.drill.paper import Revealed, write_hand_out, write_paper_key, write_reveals
    from routecheck.gui.review_sheet.drawing import WIDTH_PX, draw_picture, make_pdf

    def assess_route(route_input: RouteInput) -> Assessment:
        return assess(route_input, database, Settings(), day)

    shown = {}
    for case in cases:
        answer = assess_route(case.as_entered())
        shown[case.name] = Revealed(draw_picture(answer, is_plain=True), answer)
    pages = {
        "hand-out.pdf": (write_hand_out(cases, shown, WIDTH_PX), "drill"),
        "key.pdf": (write_paper_key(cases, assess_route), "drill, answer key"),
    }
    if reveals := write_reveals(cases, shown, WIDTH_PX):
        pages["on-request.pdf"] = (reveals, "drill, on request")
    _write_files(folder, {name: make_pdf(html, title, "A4") for name, (html, title) in pages.items()})


def _write_files(folder: Path, files: Mapping[str, str | bytes]) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in files.items():
            write_atomically(folder / name, content if isinstance(content, bytes) else content.encode())
    except OSError as error:
        raise UsageError(f"{folder} cannot be written: {system_reason(error)}") from None


def _mark(given: argparse.Namespace) -> None:
    cases = drill_files.read_key(_read_text(given.key), given.key)
    answers: list[TraineeAnswer] = []
    for name in given.given:
        read = drill_files.read_trainee_answers(_read_text(name), name)
        answers += (one._replace(trainee=one.trainee or Path(name).stem) for one in read)
    answered = ClassList()
    answered.add_answers(cases, answers, NOBODY)
    marks = answered.marks
    if given.output:
        _write_sheets(Path(given.output), marks)
    print_text("".join(f"{line}\n" for line in describe_unused(cases, answers)))
    print_text("".join(f"{line}\n" for line in describe_class(marks)))


def _write_sheets(path: Path, marks: Mapping[str, Sequence[Mark]]) -> None:
    if path.suffix.lower() != ".pdf":
        _write_files(path.parent, drill_files.write_mark_sheets(path, marks))
        return
    require_libraries()
    from routecheck.drill.paper import write_marks_page
    from routecheck.gui.review_sheet.drawing import make_pdf, start_qt

    start_qt()
    _write_files(path.parent, {path.name: make_pdf(write_marks_page(marks), "drill, marks", "A4")})


def _read_text(name: str) -> str:
    text = decode(read_bytes(name))
    if text is None:
        raise UsageError(f"{name} is no text")
    return text


def _parse_count(text: str) -> int:
    if not (text.isdecimal() and 0 < int(text) <= 1000):
        raise argparse.ArgumentTypeError(f"“{text}” is no number of routes from 1 to 1,000")
    return int(text)


def _parse_mix(text: str) -> dict[str, float]:
    """Kinds with their weights: "exit too far=2,clean=1"."""
    mix: dict[str, float] = {}
    for part in text.split(","):
        name, _, weight = (piece.strip() for piece in part.partition("="))
        if name not in (*ERROR_KINDS, CLEAN):
            hint = did_you_mean(name, [*ERROR_KINDS, CLEAN])
            raise argparse.ArgumentTypeError(f"“{name}” is no kind of entry error{hint}")
        if not (weight or "1").isdecimal() or not int(weight or "1"):
            raise argparse.ArgumentTypeError(f"“{weight}” is no weight of “{name}”: give a whole number")
        mix[name] = float(weight or "1")
    return mix
