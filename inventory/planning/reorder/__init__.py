"""The mathematics of ordering again: how much at a time, at what stock, and what either costs a unit of time.

Symbols throughout: d demand per unit of time, K cost of placing one order, h cost of holding one unit for one unit of
time, p cost of one unit being short for one unit of time, L lead time. Source where nothing else is said: Snyder and
Shen, Fundamentals of Supply Chain Theory, 2nd ed. (sections named at each; read in its worked examples).
"""
