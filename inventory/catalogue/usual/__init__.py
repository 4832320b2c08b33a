"""What everybody has and nobody need type: geometry, materials, supplies, finishing schedules, as usual values.

Tables beside this file, each row with its source; the shop's own word goes before any of them.
"""
