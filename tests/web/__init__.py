"""What the pages promise."""
