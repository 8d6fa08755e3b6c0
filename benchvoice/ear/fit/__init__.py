"""Fitting the ear to one person and one microphone: a few numbers of the net are moved, with numpy alone."""
