"""Known routes: collections of routes that the user trusts, and what is counted in them. Evidence, and never law."""
