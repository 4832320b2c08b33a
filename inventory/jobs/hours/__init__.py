"""The maker's time: hours by weekday and days off, and whether promised work and a new order fit into them."""
