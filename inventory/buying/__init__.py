"""What to buy, from whom: offers, reorder sizes and the list that costs least.  Pure: numbers in, numbers out."""
