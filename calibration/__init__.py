"""Fits what the bridge between verticals assumes, and judges it, on simulated gaugings."""
