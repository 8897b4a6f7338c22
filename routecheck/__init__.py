"""Routecheck: the independent second reader of a flight-plan route. The version stands only here."""

__version__ = "0.1.0"
