"""What is doubtful about a survey as a whole: one small function for each check."""
