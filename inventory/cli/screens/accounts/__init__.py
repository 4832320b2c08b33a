"""What is said of worth and earnings."""
