"""What an hourly record is asked once it is read: one file a rule, with `NAME`, `HELP` and `finds(record)`."""
