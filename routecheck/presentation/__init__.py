"""Assessment to what a reader sees: wording, rows, picture. No Qt, no HTML."""
