"""How much is asked for in a period, from what was asked for before: methods for demand with many empty periods."""
