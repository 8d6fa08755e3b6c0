"""What the program costs, and its figures against published ones. Not tests: nothing here passes or fails by time."""
