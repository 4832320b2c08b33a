"""What a stranger's own sheet says: from raw cells to guesses one can read, each with the cell it came from.

Nothing here prints or asks. Rules are in the modules, words of three languages in `texts/lists/*.csv`; what a rule is
not sure of is marked (`guessed`), what it cannot tell becomes a question with its best guess (`asked`).
"""
