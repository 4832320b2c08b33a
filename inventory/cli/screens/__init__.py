"""Answers for a person: what each job found, laid out for 80 columns."""
