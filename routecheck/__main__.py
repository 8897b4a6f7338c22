"""Entry point of `python -m routecheck` and of the `routecheck` command. Nothing else may live here."""

import sys

from routecheck.cli.main import main

__all__ = ["main"]

if __name__ == "__main__":
    sys.exit(main())
