"""Making: losses, probabilities, cut plans, matching of blanks, volumes of glue and finish, use rates."""
