"""Which blanks are big enough, and how they are cut."""
