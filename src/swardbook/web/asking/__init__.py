"""Every command is a page too: a form from its options, its answer with its form."""
