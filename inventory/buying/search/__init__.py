"""Branch and bound: parts of the space, how they are cut, and what settles one exactly."""
