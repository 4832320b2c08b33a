"""Workbooks read as a stream and without trust."""
