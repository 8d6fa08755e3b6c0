"""The parts of the ear's benchmark: test sound, engines, bounds on counts, and tables."""
