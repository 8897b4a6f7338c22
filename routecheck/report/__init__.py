"""Assessments as text, JSON Lines and CSV."""
