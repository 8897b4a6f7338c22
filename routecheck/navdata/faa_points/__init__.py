"""The table of designated points that the FAA publishes."""
