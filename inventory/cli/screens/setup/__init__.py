"""Screens of setting up: sheets in, and what they may say."""
