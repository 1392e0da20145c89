"""What a note of a gauging says, as plain content: no picture and no page is made here."""
