"""The family of errors that benchvoice raises: one root, split by whose fault it is.

Every message is one clear sentence that names the place and the remedy, fit to be shown to a person as it is.
"""


class BenchvoiceError(Exception):
    """Root of every error that benchvoice raises on purpose."""


class DocumentError(BenchvoiceError):
    """A procedure document says something that can't be: its author mends it."""


class InputError(BenchvoiceError):
    """Something a person gave (a unit, a number, an option) can't be used."""


class MachineError(BenchvoiceError):
    """The machine refused: disk, sound device, model or voice."""
