"""Published normal values, looked up in the shipped tables."""
