"""Messages of flights (ICAO Doc 4444 Appendices 2 and 3) to RouteInputs: splitting, items, Item 18, the whole."""
