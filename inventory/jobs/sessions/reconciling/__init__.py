"""A making session afterwards: its filled sheet checked, drawn, weighed, booked and looked back on."""
