"""Rehearsing the coming weeks: many futures drawn from what is expected, each lived with every way of buying.

`scene` is what is known, `drawing` draws the futures, `living` lives them, `telling` sums up. All quantities are whole
thousandths, all money whole numbers, so the same draws give the same answer whatever order they are added up in.
"""
