"""The window of a worklist: many routes in a table, the ones to look at first on top."""
