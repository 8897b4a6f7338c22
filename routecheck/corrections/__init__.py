"""Likely-intended corrections: candidates are made, each is verified by assessing the route with it, then ranked."""
