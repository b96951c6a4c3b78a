"""What a person can see and count, with its uncertainty."""
