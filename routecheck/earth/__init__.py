"""The mathematics of the world: geodesics and magnetism, a unit in every name."""
