"""What follows from words and library: points, legs, totals."""
