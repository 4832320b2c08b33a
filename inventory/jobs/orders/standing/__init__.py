"""How orders stand: what is promised and done, what is due soon, what waits for a parcel that is late."""
