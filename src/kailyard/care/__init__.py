"""What the garden needs from day to day and what it gives: water, and what will be picked. Values in, values out."""
