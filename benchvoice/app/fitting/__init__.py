"""Fitting the ear to a person: what they read aloud, what they confirmed in builds, and whether it helped."""
