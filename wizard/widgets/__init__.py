"""Widgets of the terminal interface."""
