"""What readings say together: check, compute, return a named result."""
