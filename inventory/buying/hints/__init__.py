"""What is nearly reached: the next price break, free postage."""
