"""Care of the book itself: undoing, proving, copying, sharing."""
