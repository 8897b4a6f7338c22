"""Altitudes: altitude windows against each other, the field and what the Aircraft sheet can do; levels as filed."""
