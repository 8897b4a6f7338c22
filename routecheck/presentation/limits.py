"""The limits of checks in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import collect

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping


def changed_limits(limits: Mapping[str, Mapping[str, float]]) -> Iterator[str]:
    """Each limit that the user changed: "steep: note_ft_nm = 350 ft/NM (340 as shipped)"."""
    for check in collect():
        for limit in check.limits:
            value = limits.get(check.name, {}).get(limit.name, limit.default)
            if value != limit.default:
                unit = f" {limit.unit}" if limit.unit else ""
                yield f"{check.name}: {limit.name} = {value:g}{unit} ({limit.default:g} as shipped)"
