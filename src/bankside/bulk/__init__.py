"""Whole archives at once: the kernel, compiled by Numba, over columns of many gaugings."""
