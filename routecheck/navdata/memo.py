"""Derived data is cached per navigation database, which never changes once made. Nothing is derived here."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Any, TypeVar, cast

if TYPE_CHECKING:
    from collections.abc import Hashable

    from routecheck.navdata.database import NavDatabase

Function = TypeVar("Function", bound=Callable[..., Any])


def cached_per_database(most: int, key: Callable[..., Hashable] | None = None) -> Callable[[Function], Function]:
    """Cache the answers of a function whose first argument is a database: as many as `most`, as long as that lives.

    The other arguments must be hashable, or `key` must tell them apart. Two threads that ask the same at once may both
    compute it; both get the answer that is cached.
    """

    def decorate(function: Function) -> Function:
        @wraps(function)
        def answer(database: NavDatabase, *asked: Any) -> Any:
            answers = database.derived[function]
            asked_key = asked if key is None else key(*asked)
            try:
                return answers[asked_key]
            except KeyError:
                found = function(database, *asked)
            if len(answers) >= most:
                answers.clear()
            return answers.setdefault(asked_key, found)

        return cast("Function", answer)

    return decorate
