"""What is opened: containers, what is in one on a scale, and how long it keeps."""
