"""What is there, what was said to be there, and what is taken from there."""
