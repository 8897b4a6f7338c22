"""Coded SIDs, STARs and approaches become paths of points and legs."""
