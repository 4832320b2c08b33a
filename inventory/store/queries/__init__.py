"""Looking: what stands in the tables, as the frozen shapes of the pure rooms."""
