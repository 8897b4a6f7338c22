"""Data that ships with the program; see PROVENANCE.md."""
