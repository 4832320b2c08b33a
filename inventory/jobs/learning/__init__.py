"""What booked sessions taught: losses, use rates, and how they are shown and proved."""
