"""What to buy when the money does not reach."""
