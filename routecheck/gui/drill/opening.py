"""Opens a drill: the one in hand, or one that was made with `routecheck drill make`; keeps it between sessions."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck import files
from routecheck.drill.drill_files import KEY, read_key
from routecheck.drill.making import training_day
from routecheck.drill.progress import DrillInHand, unpack_drill
from routecheck.faults import UsageError
from routecheck.gui import dialogs, persistence
from routecheck.gui.drill.window import DrillWindow
from routecheck.gui.open_files import describe_trouble
from routecheck.pipeline import assess

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.session import Session
    from routecheck.model import Assessment, RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings

LOG = logging.getLogger(__name__)
IN_HAND = "drill-in-hand.bin"
_KINDS = f"Drills ({KEY});;All files (*)"


def open_drill(host: QWidget, session: Session) -> DrillWindow | str:
    """Go on with the drill in hand; ask for one where there is none. Gives why not, "" where none was chosen."""
    if session.database is None:
        return "No drill was opened: the navigation data is still being loaded."
    drill = _read_in_hand()
    if drill is None:
        chosen = dialogs.file_to_open(host, "Open a drill", _KINDS)
        if not chosen:
            return ""
        try:
            drill = DrillInHand(read_key(files.read_bytes(Path(chosen)).decode(errors="replace"), Path(chosen).name))
        except (OSError, UsageError) as trouble:
            return f"No drill was opened. {describe_trouble(trouble)}"
    return show_drill(host, drill, session.database, session.settings)


def show_drill(host: QWidget | None, drill: DrillInHand, database: NavDatabase, settings: Settings) -> DrillWindow:
    """Show a drill on some data. The day is that on which the data begins to hold: what is trained is the routes."""
    day = training_day(database)

    def assess_route(route_input: RouteInput) -> Assessment:
        return assess(route_input, database, settings, day)

    from routecheck.gui.review_sheet.drawing import draw_bare_picture

    window = DrillWindow(host, drill, assess_route, draw_bare_picture)
    window.changed.connect(lambda: _keep(drill))
    window.forget_wanted.connect(lambda: _forget(window))
    window.show()
    return window


def _path() -> Path:
    return persistence.data_folder() / IN_HAND


def _read_in_hand() -> DrillInHand | None:
    try:
        drill = unpack_drill(files.read_bytes(_path()))
    except OSError:
        return None
    return drill if drill and drill.case else None


def _keep(drill: DrillInHand) -> None:
    try:
        persistence.data_folder().mkdir(parents=True, exist_ok=True)
        files.write_atomically(_path(), drill.pack())
    except OSError as error:
        LOG.warning("the drill in hand cannot be kept: %s", error)


def _forget(window: DrillWindow) -> None:
    """Close the drill and delete what was kept of it, the trainee's name too."""
    window.changed.disconnect()
    window.close()
    _path().unlink(missing_ok=True)
