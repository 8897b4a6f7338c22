"""Distances, courses and turns of whole routes; nothing else computes them."""
