"""Good lists without proof: as a person would write them, and better ones near them."""
