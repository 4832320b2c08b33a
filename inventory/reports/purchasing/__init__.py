"""What buying tells: what is wanted and why, the list, parcels and what they bring."""
