"""`python -m inventory.cli`."""

from inventory.cli import main

main()
