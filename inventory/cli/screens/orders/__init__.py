"""The answer to an order: asked for, in full, with its reasons; promised, changed."""
