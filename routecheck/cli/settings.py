"""The command `routecheck settings`: limits in force, Aircraft sheets, folders, and what is not used."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import bounds, collect
from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.log import log_path
from routecheck.cli.parser import Parser
from routecheck.cli.printing import print_text
from routecheck.navdata import store
from routecheck.settings import config_folder, load_settings

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.settings import Settings

_EXAMPLES = """\
  routecheck settings
  routecheck settings --format json"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Print what is in force."""
    given = make_parser().read(arguments)
    settings = load_settings(bounds(collect()))
    if given.format == "json":
        print_text(json.dumps(_build(settings), indent=2) + "\n")
    else:
        print_text("\n".join(_describe(settings)) + "\n")
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck settings", "Limits in force, Aircraft sheets, folders.", _EXAMPLES)
    parser.add_argument("--format", choices=("text", "json"), default="text", help="json: one object")
    return parser


def _build(settings: Settings) -> dict[str, Any]:
    return {
        "folders": _list_folders(),
        "aircraft_sheets": [
            {"name": sheet.name, "is_your_own": sheet.name in settings.own_sheet_names} for sheet in settings.sheets
        ],
        "limits": [
            {
                "check": check.name,
                "name": limit.name,
                "value": settings.limits.get(check.name, {}).get(limit.name, limit.default),
                "default": limit.default,
                "unit": limit.unit,
            }
            for check in collect()
            for limit in check.limits
        ],
        "not_used": list(settings.remarks),
    }


def _list_folders() -> dict[str, str]:
    return {"settings": str(config_folder()), "navigation data": str(store.folder()), "log": str(log_path().parent)}


def _describe(settings: Settings) -> Iterator[str]:
    found = _build(settings)
    yield "Folders:"
    yield from (f"  {name}: {folder}" for name, folder in found["folders"].items())
    yield from ("", "Aircraft sheets:")
    yield from (f"  {one['name']}{' (yours)' if one['is_your_own'] else ''}" for one in found["aircraft_sheets"])
    yield from ("", "Limits in force, by check (routecheck explain CHECK tells more):")
    for one in found["limits"]:
        changed = f"   changed; {one['default']:g} as shipped" if one["value"] != one["default"] else ""
        yield f"  {one['check']}: {one['name']} = {one['value']:g} {one['unit']}".rstrip() + changed
    if settings.remarks:
        yield from ("", "Not used:", *(f"  {remark}" for remark in settings.remarks))
