"""Data: what the loaded navigation data covers and when it holds."""
