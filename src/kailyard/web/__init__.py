"""The door to browsers: reads the address, asks the desk through one page, fills one template.

A page is a file of `pages/` (see `register.Page`), its template a file of `templates/`. Nothing here reckons.
"""
