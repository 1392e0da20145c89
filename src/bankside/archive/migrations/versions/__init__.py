"""One step a module, in the order of their numbers."""
