"""Speeds, times and fuel along a route."""
