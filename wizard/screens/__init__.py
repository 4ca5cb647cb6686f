"""Screens of the terminal interface."""
