"""The one renderer: what a screen says (`blocks`), and how it is laid out at any width (`draw`)."""
