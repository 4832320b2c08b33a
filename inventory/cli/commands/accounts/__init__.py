"""Look back: what the shop is worth and what it earned."""
