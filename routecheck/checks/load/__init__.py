"""Checks of weights, fuel and take-off speeds as a plan states them."""
