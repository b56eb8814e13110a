"""Which items an examination must hold, by protocol."""
