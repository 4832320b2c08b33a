"""What is there, what goes with what."""
