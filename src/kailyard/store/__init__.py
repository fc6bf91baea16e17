"""Keeping a garden: a folder with one database. Import the modules where a garden is opened, not before."""
