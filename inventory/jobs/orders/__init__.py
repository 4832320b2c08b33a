"""Taking an order, keeping it, handing it over."""
