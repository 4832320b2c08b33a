"""Orders: in rows with headings, or in free text."""
