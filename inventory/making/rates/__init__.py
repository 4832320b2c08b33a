"""Use rates: what is believed of them, and what weighed sessions say."""
