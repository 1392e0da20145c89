"""Fits what the model between verticals assumes, and judges it, on simulated gaugings."""
