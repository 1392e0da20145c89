"""What is printed of practice: the debrief, who is ready, and certificates; all marked so."""
