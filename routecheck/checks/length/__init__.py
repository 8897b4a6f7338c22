"""Leg length: legs that are oddly long or have no length."""
