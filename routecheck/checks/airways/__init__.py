"""Airways: entries, exits and joints of airways."""
