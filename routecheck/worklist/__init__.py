"""Many routes: checked in several processes, and put in the order in which to look at them."""
