"""Pasted nav logs, a table with a point a row, to RouteInputs: lines and cells, columns, values, the whole."""
