"""What jobs tell and what forms bring back: frozen types and shared sentences, known to jobs, sheets and screens."""
