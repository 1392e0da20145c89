"""Reading foreign tables in any column convention, and writing them."""
