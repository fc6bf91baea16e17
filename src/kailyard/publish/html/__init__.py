"""Documents as HTML: one file a document, `render(document, *, paper=None) -> str`."""
