"""What accounts tell: what a piece costs, what was earned, what the shelf is worth, the page of the shop."""
