"""Between frozen shapes and rows: names and numbers, codecs, rows in bulk."""
