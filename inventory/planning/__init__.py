"""Knowing ahead: what will be asked for, how much of each part to keep, and rehearsals of the weeks to come.

Floats: these are estimates of what has not happened, never entries of the book.
"""
