"""The pane of weights and fuel."""
