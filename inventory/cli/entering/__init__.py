"""From what was typed, written by hand or filled in to one entry of the book."""
