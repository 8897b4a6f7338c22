"""Widgets and painting that several panes use."""
