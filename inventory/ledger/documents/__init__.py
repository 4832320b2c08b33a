"""Documents: proposed, drafted, booked, taken back."""
