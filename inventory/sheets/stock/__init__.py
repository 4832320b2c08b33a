"""The shop's own sheets: tabs, columns, cells, and a catalogue made of them."""
