"""Reading a route across against another display, one row at a time."""
