"""What happened in the book: layers, claims, counts, shelf life."""
