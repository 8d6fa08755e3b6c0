"""The commands, one module each. What is heavy is imported inside their functions, so that each starts quickly."""
