"""Screens of ordinary days."""
