"""What is said of buying: the supplier list in a page, in full, and its reasons."""
