"""A new clearance put into the route in hand, and what was changed since the last look."""
