"""The shared libraries that Qt takes from the system: where one is missing, Qt would abort the process."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

from routecheck.faults import UsageError

if TYPE_CHECKING:
    from collections.abc import Callable

_ANY = {
    "libglib-2.0.so.0": "libglib2.0-0",
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
}
"""What every window needs, with the package of Debian that has it."""
_X11 = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libX11-xcb.so.1": "libx11-xcb1",
}
"""What a window on an X11 display needs besides."""


def require_libraries() -> None:
    """Raise UsageError with the line that installs what is missing. Looks on Linux only."""
    if missing := find_missing(_can_load) if sys.platform.startswith("linux") else []:
        raise UsageError(
            f"the window needs {'libraries' if len(missing) > 1 else 'a library'} that this system lacks. "
            f"On Debian: apt-get install -y {' '.join(missing)}. To check without a window: routecheck proof FILE"
        )


def find_missing(can_load: Callable[[str], bool]) -> list[str]:
    """The packages whose libraries cannot be loaded, of those that the display in use needs."""
    platform = os.environ.get("QT_QPA_PLATFORM", "")
    is_x11 = platform.startswith("xcb") or (not platform and bool(os.environ.get("DISPLAY")))
    needed = _ANY | _X11 if is_x11 else _ANY
    return [package for library, package in needed.items() if not can_load(library)]


def _can_load(library: str) -> bool:
    import ctypes

    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
