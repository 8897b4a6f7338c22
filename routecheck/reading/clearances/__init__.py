"""A clearance as it is spoken and written down: its phrases (`phrases`), the value (`clearance`), the input of it."""
