"""One file a page; `kailyard.web.register.Page` says what it holds."""
