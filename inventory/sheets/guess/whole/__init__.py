"""What only the whole sheet tells: one spelling of each name, what prices are for."""
