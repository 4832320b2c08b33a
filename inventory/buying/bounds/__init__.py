"""What no list in a part of the space can cost less than."""
