"""The pieces of version 3, frozen: one module a matter, each with `create()`."""
