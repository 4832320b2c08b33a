"""What commands read of what was: used, asked for, earned."""
