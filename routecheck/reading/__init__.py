"""Text in, values with spans out; never raises on what a user typed."""
