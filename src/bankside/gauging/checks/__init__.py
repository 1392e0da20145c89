"""What is doubtful about a gauging, by whose rule, and what to do about it."""
