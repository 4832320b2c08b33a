"""Take an order, from the question to the handing over."""
