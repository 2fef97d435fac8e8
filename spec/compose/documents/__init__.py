"""Documents: each is an ordered list of parts."""
