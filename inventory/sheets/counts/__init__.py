"""Count sheets, out and back."""
