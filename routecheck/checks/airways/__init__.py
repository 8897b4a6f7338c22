"""Airways: entries, exits and junctions of airways."""
