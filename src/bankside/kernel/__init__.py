"""The numbers: plain functions over floats that import nothing but `math`."""
