"""Two versions of a route, point by point: what differs between them. No sentences and no drawing here."""
