"""The Leg table pane."""
