"""What to buy from whom, buying it, and unpacking it."""
