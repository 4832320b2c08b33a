"""What single texts say: words of three languages, counts, prices, days, names."""
