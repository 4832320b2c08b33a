"""Knowing ahead: what will be asked for, what that takes of each part, and at what stock to order again."""
