"""Checks of the family Known routes."""
