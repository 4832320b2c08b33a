"""The pieces of version 2, frozen: making sessions and what is learned from them."""
