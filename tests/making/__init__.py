"""Tests of the making room."""
