"""What a record is asked once it is read: one file a rule, with `NAME`, `HELP`, `NEEDS_NEIGHBOUR` and `finds`.

`finds(days) -> Sequence[Found]` looks at a whole record and, where the rule needs one, at a neighbour's. What it finds
for certain is set aside, what is only doubtful is asked about; nothing is mended. Bounds are ours, set where the clean
records of many stations hardly ever reach: their rate of false alarm and of planted faults found is measured by
`make validation` (table `judging`).
"""
