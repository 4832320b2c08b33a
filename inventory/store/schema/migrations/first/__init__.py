"""The pieces of version 1, frozen: later versions add files of their own."""
