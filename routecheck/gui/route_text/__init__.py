"""The Route text pane: the fields, the text and what stands under it."""
