"""Steps from each released state of the tables to the next, in one line; run by Alembic."""
