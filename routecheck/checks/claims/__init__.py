"""Claims and totals: figures that the plan states."""
