"""One document into the book, whole or not at all; and which to take back."""
