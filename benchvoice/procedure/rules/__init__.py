"""Cross-checks of a document, one subject a module; each module's `findings` tells what it sees."""
