"""Things called otherwise: new names, two that become one, and what is no longer had."""
