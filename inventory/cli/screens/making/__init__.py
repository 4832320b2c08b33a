"""What is said of making: the plan of a session, its booking, what was learned."""
