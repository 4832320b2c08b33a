"""Between frozen shapes and rows: names and numbers, spelling, rows in sets."""
