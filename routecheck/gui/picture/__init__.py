"""The Picture pane: the map of the route."""
