"""What other programs may call. `import routecheck` gives these names when they are asked for; all else may change."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import bounds, collect
from routecheck.known.folder import choose_known
from routecheck.model import Assessment, RouteInput
from routecheck.navdata import database, store
from routecheck.pipeline import assess_many as assess_chunks
from routecheck.settings import Settings, load_settings

if TYPE_CHECKING:
    import os
    from collections.abc import Iterable, Iterator

    from routecheck.known.known_routes import KnownRoutes
    from routecheck.navdata.database import NavDatabase

__all__ = ["Assessment", "RouteInput", "Settings", "assess", "assess_many", "load_known", "load_navdata"]


def assess(
    route: str,
    *,
    navdata: NavDatabase | None = None,
    settings: Settings | None = None,
    today: dt.date | None = None,
    known: KnownRoutes | None = None,
    **fields: Any,
) -> Assessment:
    """Check one route text. `fields` are those of RouteInput: `departure="XVAL"`, `destination="XVOR"` …

    Without `navdata` what was added for good is used, or the demo region; without `settings` the user's own; without
    `known` routes those that were added for good, if any; without `today` the day it is, UTC. What the text holds never
    raises: what cannot be read is a finding.
    """
    inputs = [RouteInput(route, **fields)]
    return next(assess_many(inputs, navdata=navdata, settings=settings, today=today, known=known))


def assess_many(
    inputs: Iterable[RouteInput],
    *,
    navdata: NavDatabase | None = None,
    settings: Settings | None = None,
    today: dt.date | None = None,
    known: KnownRoutes | None = None,
) -> Iterator[Assessment]:
    """Check routes in their order, a chunk at a time, so that a million of them need no more memory than a few."""
    data = load_navdata() if navdata is None else navdata
    limits = load_settings(bounds(collect())) if settings is None else settings
    day = today or _today()
    return assess_chunks(inputs, data, limits, day, known=load_known(navdata=data) if known is None else known)


def load_navdata(*files: str | os.PathLike[str]) -> NavDatabase:
    """Navigation data from files (ARINC 424, FAA designated points; plain, .gz, .xz or .zip).

    Without files what was added for good; where nothing was, the invented demo region. Raises DataError for a file that
    cannot be read.
    """
    if files:
        return database.load_navdata(files)
    return store.open_store() or database.demo_database()


def load_known(
    *files: str | os.PathLike[str], navdata: NavDatabase | None = None, today: dt.date | None = None
) -> KnownRoutes | None:
    """Known routes from lists of routes, read by the navigation data; without files those that were added for good.

    None where there are none. Raises UsageError for a missing file, DataError for one of which no row can be used.
    """
    chosen = choose_known([str(Path(file)) for file in files])
    if chosen is None:
        return None
    return chosen.load(load_navdata() if navdata is None else navdata, today or _today())


def _today() -> dt.date:
    return dt.datetime.now(dt.UTC).date()
