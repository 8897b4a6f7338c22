"""What other programs may call. `import routecheck` gives these names when they are asked for; all else may change."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import bounds, collect
from routecheck.model import Assessment, RouteInput
from routecheck.navdata import database, store
from routecheck.pipeline import assess_many as assess_chunks
from routecheck.settings import Settings, load_settings

if TYPE_CHECKING:
    import os
    from collections.abc import Iterable, Iterator

    from routecheck.navdata.database import NavDatabase

__all__ = ["Assessment", "RouteInput", "Settings", "assess", "assess_many", "load_navdata"]


def assess(
    route: str,
    *,
    navdata: NavDatabase | None = None,
    settings: Settings | None = None,
    today: dt.date | None = None,
    **fields: Any,
) -> Assessment:
    """Check one route text. `fields` are those of RouteInput: `departure="XVAL"`, `destination="XVOR"` …

    Without `navdata` what was added for good is used, or the demo region; without `settings` the user's own; without
    `today` the day it is, UTC. What the text holds never raises: what cannot be read is a finding.
    """
    return next(assess_many([RouteInput(route, **fields)], navdata=navdata, settings=settings, today=today))


def assess_many(
    inputs: Iterable[RouteInput],
    *,
    navdata: NavDatabase | None = None,
    settings: Settings | None = None,
    today: dt.date | None = None,
) -> Iterator[Assessment]:
    """Check routes in their order, a chunk at a time, so that a million of them need no more memory than a few."""
    data = load_navdata() if navdata is None else navdata
    limits = load_settings(bounds(collect())) if settings is None else settings
    return assess_chunks(inputs, data, limits, today or dt.datetime.now(dt.UTC).date())


def load_navdata(*files: str | os.PathLike[str]) -> NavDatabase:
    """Navigation data from files (ARINC 424, FAA designated points; plain, .gz, .xz or .zip).

    Without files what was added for good; where nothing was, the invented demo region. Raises DataError for a file that
    cannot be read.
    """
    if files:
        return database.load_navdata(files)
    return store.open_store() or database.demo_database()
