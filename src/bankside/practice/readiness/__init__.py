"""Who is ready for real water: what a leader asks for, and what each person has shown."""
