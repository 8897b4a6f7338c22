"""Altitudes along a route: windows, room, planned profile, published minima."""
