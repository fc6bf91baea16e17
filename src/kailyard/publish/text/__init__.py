"""Documents as plain text: one file a document, `render(document, *, width=80, ascii_only=False) -> str`."""
