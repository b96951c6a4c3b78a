"""Plot trials: how they are set out, what they show, and what they cannot."""
