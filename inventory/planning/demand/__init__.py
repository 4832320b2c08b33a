"""What will be asked for: orders a week, their sizes and what they are of, with how well each is known."""
