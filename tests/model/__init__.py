"""The tool against a plain model of the book, under random commands."""
