"""What was at a day gone by, and what happened between two."""
