"""Tests of the measures room."""
