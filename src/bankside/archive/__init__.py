"""The store of an office: every entry ever made, what is filed of it, and how both are kept."""
