"""Buy: the list, what was ordered of it, what came."""
