"""Whether a catalogue agrees with itself, kind by kind, and as a whole."""
