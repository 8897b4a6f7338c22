"""Assessments as text and JSON Lines."""
