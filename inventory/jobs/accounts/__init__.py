"""What the shop is worth, what it earned, where each coin went."""
