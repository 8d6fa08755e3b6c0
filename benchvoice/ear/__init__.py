"""Hearing: a vosk model of our own, a grammar for each moment, and where speech begins and ends."""
