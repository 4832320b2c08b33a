"""What steps of schema versions are made of: tables in short, guards, and work on rows that are there already."""
