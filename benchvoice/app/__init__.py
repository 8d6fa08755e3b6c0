"""The wiring: the loop between ear, core and voice, and the command line."""
