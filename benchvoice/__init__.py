"""Offline, hands-free voice assistant for people who assemble machinery at a bench."""

__version__ = "0.1.0"
