"""Procedures and runways: SID and STAR names against the airports."""
