"""The Side view pane: altitude against distance."""
