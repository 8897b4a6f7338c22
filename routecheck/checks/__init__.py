"""The catalogue and one file per check."""
