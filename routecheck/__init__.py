"""Routecheck: the independent second reader of a flight-plan route. The version stands only here.

The names below are for other programs (see the README); they are imported when they are first asked for.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from routecheck.public import Assessment, RouteInput, Settings, assess, assess_many, load_known, load_navdata

__version__ = "0.1.0"
__all__ = ["Assessment", "RouteInput", "Settings", "assess", "assess_many", "load_known", "load_navdata"]


def __getattr__(name: str) -> Any:
    """Import a public name when it is first asked for, so that `routecheck --version` need not wait for it."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from routecheck import public

    return getattr(public, name)


def __dir__() -> list[str]:
    """The public names, though most are not imported yet."""
    return sorted({*globals(), *__all__})
