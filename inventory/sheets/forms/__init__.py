"""Forms that go out to be filled and come back: tables, cells, and what stands where."""
