"""Comparing with another version of the route, in the window."""
