"""What the tables are: declared once, generated for speed, brought up to date step by step."""
