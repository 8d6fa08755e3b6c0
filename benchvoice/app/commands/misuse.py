"""Wrong use of the command line that only the command itself can see: its exit status is 2."""

from benchvoice.errors import InputError


class Misuse(InputError):
    """Options or arguments that don't go together, or that name nothing."""
