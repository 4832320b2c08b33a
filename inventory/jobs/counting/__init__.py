"""What to count, what was counted, and what counts say of costs."""
