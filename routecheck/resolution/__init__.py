"""Words to fixes: which place every word means, and how the route leads from one to the next."""
