"""From expected state to tasks that carry their reasons."""
