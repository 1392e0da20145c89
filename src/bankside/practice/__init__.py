"""Simulated streams whose discharge is known, and a virtual crew that measures them."""
