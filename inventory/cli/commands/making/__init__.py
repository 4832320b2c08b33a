"""Make: a session planned, made and booked; counts; what is learned."""
