"""The application: opens a garden's folder, knows the date, calls the parts, returns documents.

Both doors, the command line and the pages, call functions of this folder and nothing else. One file a matter.
"""
